package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	api "halfweight/bot/telegram/apitest"
)

// served is the bot at work against a Bot API server, in this process.
type served struct {
	*api.Server
	t      testing.TB
	config config
	log    *locked
	listen string // where it answers its operator
	hook   string // and its webhook
	stop   func() error
}

// locked is a buffer written to from many sides.
type locked struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// serving starts the bot with a file of its own; with changes what it is told.
func serving(t testing.TB, with func(*config)) *served {
	t.Helper()
	dir, err := os.MkdirTemp("", "hw") // short: a socket's name has room for 100 characters
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	s := &served{Server: api.New(), t: t, log: new(locked)}
	was := slog.Default()
	slog.SetDefault(slog.New(slog.NewTextHandler(hiding{s.log, secrets(api.Token)}, nil)))
	s.config = config{
		token: api.Token, api: s.URL, data: filepath.Join(dir, "bot.db"),
		listen: "127.0.0.1:0", webhookListen: "127.0.0.1:0", perMinute: 0, noLimit: true,
	}
	if with != nil {
		with(&s.config)
	}
	s.start()
	t.Cleanup(func() {
		if err := s.stop(); err != nil {
			t.Errorf("the bot ended with: %v", err)
		}
		s.Close()
		slog.SetDefault(was)
		if strings.Contains(s.log.String(), "secret-key") {
			t.Errorf("the token is in the log:\n%s", s.log)
		}
		if t.Failed() {
			t.Logf("the log:\n%s", s.log)
		}
	})
	return s
}

// servingAt is where the log says that it listens.
var servingAt = regexp.MustCompile(`\bserving .* listen=(\S+) webhook-listen=(\S+)`)

func (s *served) start() {
	s.t.Helper()
	before := len(servingAt.FindAllString(s.log.String(), -1))
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.config.run(ctx) }()
	s.stop = sync.OnceValue(func() error {
		cancel()
		select {
		case err := <-ended:
			return err
		case <-time.After(20 * time.Second):
			return fmt.Errorf("it did not end in 20 s")
		}
	})
	if !s.Until(func() bool {
		all := servingAt.FindAllStringSubmatch(s.log.String(), -1)
		if len(all) == before {
			return false
		}
		s.listen, s.hook = all[before][1], all[before][2]
		return true
	}) {
		s.t.Fatalf("it does not serve:\n%s", s.log)
	}
	s.HookAt(s.hook)
}

// hooked has Telegram call the bot.
func hooked(c *config) { c.webhook = "http://bot.test/hook" }

// replies waits until a chat has n messages of the bot.
func (s *served) replies(chat int64, n int) []api.Sent {
	s.t.Helper()
	if !s.Until(func() bool { return len(s.In(chat)) >= n }) {
		s.t.Fatalf("chat %d has %d messages, want %d: %v", chat, len(s.In(chat)), n, s.In(chat))
	}
	return s.In(chat)
}

// ask says something in a private chat and gives the one reply to it.
func (s *served) ask(chat int64, text string) api.Sent {
	s.t.Helper()
	n := len(s.In(chat)) + 1
	s.Say(api.Private(chat), text)
	return s.replies(chat, n)[n-1]
}

// nothingToSend waits until every reply is marked as sent; false when one stays.
func (s *served) nothingToSend() bool {
	return s.Until(func() bool {
		_, body := s.get("/counters")
		return strings.Contains(body, `"chats_with_replies_to_send": 0`)
	})
}

// get calls an operator's page.
func (s *served) get(page string) (int, string) {
	s.t.Helper()
	resp, err := http.Get("http://" + s.listen + page)
	if err != nil {
		return 0, err.Error()
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return resp.StatusCode, string(body)
}

const (
	rollerWithLock = "14000 lb roller, lock bar in, 4x 3/8 g70 direct"
	rollerOpen     = "14000 lb roller, 4x 3/8 g70 direct, 1x 3/8 g70 at the rear"
)

func want(t *testing.T, got api.Sent, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(got.Text, w) {
			t.Errorf("the reply lacks %q:\n%s", w, got.Text)
		}
	}
}

func TestServe_talksThroughPolling(t *testing.T) {
	s := serving(t, nil)
	want(t, s.ask(1, rollerWithLock), "ADDS UP", "14,000")
	want(t, s.ask(1, "front left is loose"), "SHORT")
	want(t, s.ask(1, "/undo"), "ADDS UP")
	want(t, s.ask(1, "/start"), "14000 lb roller")
	if n := len(s.Calls("setMyCommands")); n != 1 {
		t.Errorf("the menu was set %d times", n)
	}
	for _, c := range s.Calls("getUpdates") {
		if c.Params["allowed_updates"] != `["message","edited_message","callback_query","my_chat_member"]` {
			t.Fatalf("asked for %s", c.Params["allowed_updates"])
		}
	}
	if code, body := s.get("/health"); code != 200 {
		t.Errorf("health: %d %s", code, body)
	}
	if !s.nothingToSend() { // a reply is counted once it is marked as sent
		t.Error("a reply stays to be sent")
	}
	code, body := s.get("/counters")
	var counters map[string]int
	if err := json.Unmarshal([]byte(body), &counters); code != 200 || err != nil || counters["messages"] != 4 || counters["sent"] != 4 {
		t.Errorf("counters: %d %v %s", code, err, body)
	}
}

func TestServe_talksThroughTheWebhook(t *testing.T) {
	s := serving(t, hooked)
	want(t, s.ask(1, rollerWithLock), "ADDS UP")
	want(t, s.ask(1, "front left is loose"), "SHORT")

	forged := `{"update_id":99999,"message":{"message_id":9,"date":1,"chat":{"id":1,"type":"private"},"from":{"id":1,"is_bot":false,"first_name":"A"},"text":"new load"}}`
	secret := s.Secret()
	if len(secret) < 32 {
		t.Fatalf("the secret is %q", secret)
	}
	for _, shown := range []string{"", "x", secret[:len(secret)-1], secret + "0", strings.ToUpper(secret)} {
		if code := callHook(t, s.hook, shown, forged); code != 401 {
			t.Errorf("a call with the secret %q got %d", shown, code)
		}
	}
	for _, c := range []struct {
		body string
		code int
	}{{"not json", 400}, {`[]`, 400}, {`{"update_id":1}`, 200}, {strings.Repeat(" ", 2<<20), 413}} {
		if code := callHook(t, s.hook, secret, c.body); code != c.code {
			t.Errorf("%.20q got %d, want %d", c.body, code, c.code)
		}
	}
	if n := len(s.In(1)); n != 2 {
		t.Errorf("the forged calls were answered: %v", s.In(1))
	}
	want(t, s.ask(1, "front left tight"), "ADDS UP") // the load is still there
	for _, status := range s.Statuses() {
		if status != 200 {
			t.Errorf("the webhook answered %v", s.Statuses())
			break
		}
	}
}

func callHook(t *testing.T, at, secret, body string) int {
	t.Helper()
	req, err := http.NewRequest("POST", "http://"+at+"/hook", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("X-Telegram-Bot-Api-Secret-Token", secret)
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	return resp.StatusCode
}

func TestServe_editedMessageIsJudgedAgainInPlace(t *testing.T) {
	s := serving(t, nil)
	m := s.Say(api.Private(1), "14000 lb roller, lock bar in, 3x 3/8 g70 direct")
	want(t, s.replies(1, 1)[0], "SHORT")
	s.Edit(m, rollerWithLock)
	if !s.Until(func() bool { return s.In(1)[0].Edits == 1 }) {
		t.Fatalf("the reply was not changed: %v", s.In(1))
	}
	want(t, s.In(1)[0], "ADDS UP")
	s.Edit(m, rollerWithLock) // the same again changes nothing
	s.Edit(m, "15000 lb roller, lock bar in, 4x 3/8 g70 direct")
	if !s.Until(func() bool { return strings.Contains(s.In(1)[0].Text, "15,000") }) {
		t.Fatalf("the second edit was not taken: %v", s.In(1))
	}
	if n := len(s.In(1)); n != 1 {
		t.Fatalf("edits were answered by new messages: %v", s.In(1))
	}
	want(t, s.ask(1, "front left is loose"), "SHORT")
	s.Edit(m, "1000 lb roller, lock bar in, 4x 3/8 g70 direct") // more was counted on it
	want(t, s.replies(1, 3)[2], "the count stands")
	want(t, s.In(1)[0], "15,000")
	want(t, s.ask(1, "front left tight"), "15,000")
}

func TestServe_pressAnswersTheOneOpenQuestion(t *testing.T) {
	s := serving(t, nil)
	asked := s.ask(1, "14000 lb roller, 4x 3/8 g70 direct")
	want(t, asked, "CAN'T CALL IT YET")
	if len(asked.Buttons) == 0 {
		t.Fatalf("no buttons under\n%s", asked.Text)
	}
	query := s.Press(api.Private(1), asked.ID, asked.Buttons[0])
	want(t, s.replies(1, 2)[1], "ADDS UP", "Joint locked")
	again := s.Press(api.Private(1), asked.ID, asked.Buttons[0])
	want(t, s.replies(1, 3)[2], "settled")
	odd := s.Press(api.Private(1), asked.ID, api.Button{Data: "x"})
	for _, q := range []string{query, again, odd} {
		if !s.Until(func() bool { return s.Answered(q) == 1 }) {
			t.Errorf("press %s was answered %d times", q, s.Answered(q))
		}
	}
}

func TestServe_groupIsAnsweredWhenItCalls(t *testing.T) {
	s := serving(t, nil)
	crew, id := api.Group(5), int64(-5)
	s.Say(crew, "morning all, who has the 3/8 chains")
	s.Say(crew, "/help@another_bot")
	s.Say(crew, "🚜🚜 @"+api.Name+" "+rollerWithLock) // two units to an emoji
	first := s.replies(id, 1)[0]
	want(t, first, "ADDS UP")
	s.Update("message", s.Message(crew, "front left is loose", api.M{
		"from":             api.M{"id": 8, "is_bot": false, "first_name": "B"},
		"reply_to_message": api.M{"message_id": first.ID, "date": 1, "chat": crew, "from": api.M{"id": api.ID, "is_bot": true, "first_name": "h"}},
	}))
	want(t, s.replies(id, 2)[1], "SHORT") // the other one's load
	s.Say(crew, "/undo@"+strings.ToUpper(api.Name))
	want(t, s.replies(id, 3)[2], "ADDS UP")
	want(t, s.ask(6, "front left is loose"), "No load") // a third one outside
	for _, m := range s.In(id) {
		if m.ReplyTo == 0 {
			t.Errorf("in a group it does not say whom it answers: %q", m.Text)
		}
	}
	if n := len(s.In(id)); n != 3 {
		t.Errorf("the group got %d messages: %v", n, s.In(id))
	}
}

func TestServe_greetsTheGroupItIsPutInto(t *testing.T) {
	s := serving(t, nil)
	me := api.M{"id": api.ID, "is_bot": true, "first_name": "h"}
	member := func(was, is string) api.M {
		return api.M{
			"chat": api.Group(5), "from": api.M{"id": 7, "is_bot": false, "first_name": "A"}, "date": time.Now().Unix(),
			"old_chat_member": api.M{"status": was, "user": me, "until_date": 0}, "new_chat_member": api.M{"status": is, "user": me, "until_date": 0},
		}
	}
	s.Update("my_chat_member", member("left", "member"))
	want(t, s.replies(-5, 1)[0], "14000 lb roller")
	s.Update("my_chat_member", member("member", "kicked"))
	s.ask(1, "help")
	if n := len(s.In(-5)); n != 1 {
		t.Errorf("it wrote %d messages", n)
	}
}

func TestServe_pictureIsAnsweredKindly(t *testing.T) {
	s := serving(t, nil)
	photo := []api.M{{"file_id": "f", "file_unique_id": "u", "width": 1, "height": 1}}
	s.Update("message", s.Message(api.Private(1), "", api.M{"photo": photo}))
	want(t, s.replies(1, 1)[0], "picture", "14000 lb roller")
	s.Update("message", s.Message(api.Private(1), "", api.M{"photo": photo, "caption": rollerWithLock}))
	want(t, s.replies(1, 2)[1], "ADDS UP", "not the picture")
	s.Update("message", s.Message(api.Private(1), "", api.M{"sticker": api.M{"file_id": "f", "file_unique_id": "u", "type": "regular", "width": 1, "height": 1}}))
	want(t, s.replies(1, 3)[2], "sticker")
	for range 3 {
		s.Update("message", s.Message(api.Private(2), "", api.M{"photo": photo, "media_group_id": "17"}))
	}
	s.replies(2, 1)
	s.ask(2, "help")
	if n := len(s.In(2)); n != 2 {
		t.Errorf("an album and a message got %d replies", n)
	}
}

func TestServe_groupThatBecomesASupergroupKeepsItsLoad(t *testing.T) {
	s := serving(t, nil)
	crew, is := api.Group(5), api.Chat{ID: -100200, Type: "supergroup"}
	s.Say(crew, "/x "+rollerWithLock)
	s.replies(-5, 1)
	s.Say(crew, "@"+api.Name+" "+rollerWithLock)
	s.replies(-5, 2)
	s.Update("message", s.Message(crew, "", api.M{"migrate_to_chat_id": is.ID}))
	s.Update("message", s.Message(is, "", api.M{"migrate_from_chat_id": -5}))
	s.Say(is, "@"+api.Name+" front left is loose")
	want(t, s.replies(is.ID, 1)[0], "SHORT") // and no reply to the old group once more
	if !s.nothingToSend() || len(s.In(is.ID)) != 1 {
		t.Errorf("the new group has %v", s.In(is.ID))
	}
}

func TestServe_sendToAGroupThatMovedGoesToTheNewOne(t *testing.T) {
	s := serving(t, nil)
	s.Gone(-5, api.Failure{Code: 400, Says: "Bad Request: group chat was upgraded to a supergroup chat", MigrateTo: -100200})
	s.Say(api.Group(5), "@"+api.Name+" "+rollerWithLock)
	want(t, s.replies(-100200, 1)[0], "ADDS UP")
}

func TestServe_waitsOutWhatTelegramRefuses(t *testing.T) {
	s := serving(t, nil)
	s.ask(1, "help")
	s.Fail("sendMessage", api.Failure{Code: 429, Says: "Too Many Requests: retry after 1", RetryAfter: 1},
		api.Failure{Code: 502, Says: "Bad Gateway"}, api.Failure{Drop: true})
	s.Fail("getUpdates", api.Failure{Code: 500, Says: "Internal"}, api.Failure{Drop: true}, api.Failure{DropAfter: true},
		api.Failure{Code: 429, Says: "Too Many Requests", RetryAfter: 1})
	before := time.Now()
	want(t, s.ask(1, rollerWithLock), "ADDS UP")
	if took := time.Since(before); took < time.Second {
		t.Errorf("it did not wait the second it was told to: %v", took)
	}
	want(t, s.ask(1, "front left is loose"), "SHORT")
	if n := len(s.In(1)); n != 3 {
		t.Errorf("3 messages got %d replies", n)
	}
}

func TestServe_chatThatBlockedItStopsNobodyElse(t *testing.T) {
	s := serving(t, nil)
	s.Gone(1, api.Failure{Code: 403, Says: "Forbidden: bot was blocked by the user"})
	s.Say(api.Private(1), rollerWithLock)
	want(t, s.ask(2, rollerWithLock), "ADDS UP")
	if !s.nothingToSend() {
		t.Error("what waits for the blocked chat stays")
	}
}

func TestServe_longReplyComesInPieces(t *testing.T) {
	s := serving(t, nil)
	s.Say(api.Private(1), strings.Repeat("florp ", 680))
	s.ask(2, "help")
	if !s.Until(func() bool { return len(s.In(1)) > 0 }) {
		t.Fatal("no reply")
	}
	for _, c := range s.Calls("sendMessage") {
		if len([]rune(c.Params["text"])) > 4096 {
			t.Errorf("a message of %d characters", len([]rune(c.Params["text"])))
		}
	}
}

// No update, however odd, stops the bot or another chat.
func TestServe_oddUpdatesStopNobody(t *testing.T) {
	odd := []string{
		`{"update_id":%d}`,
		`{"update_id":%d,"message":null}`,
		`{"update_id":%d,"message":{}}`,
		`{"update_id":%d,"message":[1,2]}`,
		`{"update_id":%d,"message":{"message_id":-1,"date":-5,"chat":{"id":0},"text":"x","entities":[{"type":"mention","offset":-3,"length":900}]}}`,
		`{"update_id":%d,"message":{"message_id":1,"date":99999999999,"chat":{"id":3,"type":"private"},"forward_origin":{"type":"by_pigeon"},"text":"help"}}`,
		`{"update_id":%d,"my_chat_member":{"chat":{"id":3},"from":{},"date":1,"old_chat_member":{"status":"ghost"},"new_chat_member":{"status":"ghost"}}}`,
		`{"update_id":%d,"callback_query":{"id":"","from":{}}}`,
		`{"update_id":%d,"callback_query":{"id":"` + strings.Repeat("9", 5000) + `","from":{"id":1},"data":"a b","message":{"message_id":1,"date":0,"chat":{"id":3}}}}`,
		`{"update_id":%d,"edited_message":{"message_id":1,"date":1,"chat":{"id":3,"type":"private"},"text":"gear"}}`,
		`{"update_id":%d,"poll":{"id":"1"}}`,
		`{"update_id":%d,"new_kind_of_thing":{"a":[[[[]]]]}}`,
		`{"update_id":%d,"message":{"message_id":1,"date":1,"chat":{"id":"three"},"text":"\ud83d\u0000"}}`,
		`"update"`,
	}
	for name, with := range map[string]func(*config){
		"polling": nil,
		"webhook": hooked,
	} {
		t.Run(name, func(t *testing.T) {
			s := serving(t, with)
			s.ask(1, "help")
			for i, u := range odd {
				if name == "webhook" && u[0] == '"' {
					continue // nothing says that it is an update: it stays with Telegram
				}
				s.Push(u)
				want(t, s.ask(int64(100+i), rollerWithLock), "ADDS UP")
			}
			want(t, s.replies(3, 1)[0], "14000 lb roller") // forwarded in a way not known yet, and read
		})
	}
}

// What is confirmed to Telegram is stored: the offset never passes an update that
// was not answered or queued to be.
func TestServe_confirmsOnlyWhatIsStored(t *testing.T) {
	s := serving(t, nil)
	const chats, each = 20, 10
	for n := range each {
		for chat := range chats {
			text := "add 1x 3/8 g70 over"
			if n == 0 {
				text = rollerWithLock
			}
			s.Say(api.Private(int64(chat+1)), text)
		}
		if n == each/2 { // in the middle of it
			s.replies(chats, 1)
			if err := s.stop(); err != nil {
				t.Fatal(err)
			}
			s.start()
		}
	}
	for chat := range chats {
		last := s.replies(int64(chat+1), each)[each-1]
		want(t, last, "Has 72,600") // 4 direct at half and 9 over whole, each once and in order
		if n := len(s.In(int64(chat + 1))); n > each+1 {
			t.Errorf("%d messages got %d replies", each, n)
		}
	}
}

func TestServe_strangersLearnNothing(t *testing.T) {
	t.Run("listed", func(t *testing.T) {
		s := serving(t, func(c *config) { c.chats = map[string]bool{"tg:1": true} })
		s.Say(api.Private(2), rollerWithLock)
		s.Say(api.Private(2), "/start")
		want(t, s.ask(1, rollerWithLock), "ADDS UP")
		if got := s.In(2); len(got) != 0 {
			t.Errorf("a stranger was told %v", got)
		}
	})
	t.Run("invited", func(t *testing.T) {
		s := serving(t, func(c *config) { c.invite = "Alder" })
		s.Say(api.Private(2), rollerWithLock)
		s.Say(api.Private(2), "alder fork")
		s.Say(api.Private(1), "/start alder")
		want(t, s.replies(1, 1)[0], "14000 lb roller")
		want(t, s.ask(1, rollerWithLock), "ADDS UP")
		if got := s.In(2); len(got) != 0 {
			t.Errorf("a stranger was told %v", got)
		}
		if err := s.stop(); err != nil {
			t.Fatal(err)
		}
		s.start()
		want(t, s.ask(1, "front left is loose"), "SHORT") // still let in after a restart
		s.Say(api.Private(2), "help")
		want(t, s.ask(1, "front left tight"), "ADDS UP")
		if got := s.In(2); len(got) != 0 {
			t.Errorf("a stranger was told %v", got)
		}
	})
}

func TestServe_chatThatIsTooFastIsToldOnce(t *testing.T) {
	s := serving(t, func(c *config) { c.perMinute = 3 })
	for range 10 {
		s.Say(api.Private(1), "help")
	}
	want(t, s.ask(2, rollerWithLock), "ADDS UP")
	s.replies(1, 4)
	told := 0
	for _, m := range s.In(1) {
		if strings.Contains(m.Text, "not counted") {
			told++
		}
	}
	if n := len(s.In(1)); n != 4 || told != 1 {
		t.Errorf("10 messages at 3 a minute got %d replies, %d that say so", n, told)
	}
}

func TestServe_unknownTokenEndsIt(t *testing.T) {
	s := api.New()
	defer s.Close()
	c := config{token: "1:wrong_key_of_mine", api: s.URL, data: filepath.Join(t.TempDir(), "bot.db"), listen: "127.0.0.1:0"}
	err := c.run(t.Context())
	if err == nil || !strings.Contains(err.Error(), "token") || strings.Contains(err.Error(), "wrong_key") {
		t.Errorf("it says: %v", err)
	}
}

func TestBackup_copiesTheOpenFile(t *testing.T) {
	s := serving(t, nil)
	s.ask(1, rollerWithLock)
	copied := filepath.Join(t.TempDir(), "copy.db")
	var said bytes.Buffer
	ui := screen{out: &said, err: &said}
	args := []string{"-data", s.config.data, copied}
	if code := backup(ui, args, os.Getenv); code != exitFine {
		t.Fatalf("backup: %d %s", code, said.String())
	}
	if code := backup(ui, args, os.Getenv); code != exitFailed || !strings.Contains(said.String(), "there already") {
		t.Errorf("over a copy: %d %s", code, said.String())
	}
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	if code := backup(ui, []string{"-data", s.config.data, copied + "2"}, os.Getenv); code != exitFine {
		t.Errorf("backup of a file at rest: %s", said.String())
	}
	s.config.data = copied
	s.start()
	s.Say(api.Private(1), "front left is loose")
	if !s.Until(func() bool { all := s.In(1); return strings.Contains(all[len(all)-1].Text, "SHORT") }) {
		t.Errorf("the copy does not know the load: %v", s.In(1))
	}
}

func TestReadConfig_flagThenEnvironment(t *testing.T) {
	file := filepath.Join(t.TempDir(), "token")
	if err := os.WriteFile(file, []byte("5:from_file\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	env := map[string]string{
		tokenEnv: "6:from_env", "HALFWEIGHT_DATA": "env.db", "HALFWEIGHT_CHATS": "1, -100200", "HALFWEIGHT_PER_MINUTE": "7",
	}
	get := func(name string) string { return env[name] }
	c, err := readConfig([]string{"-data", "flag.db"}, get)
	if err != nil || c.data != "flag.db" || c.token != "6:from_env" || c.perMinute != 7 || !c.chats["tg:1"] || !c.chats["tg:-100200"] {
		t.Errorf("read %+v, %v", c, err)
	}
	if c, err := readConfig([]string{"-token-file", file}, get); err != nil || c.token != "5:from_file" || c.data != "env.db" {
		t.Errorf("read %+v, %v", c, err)
	}
	for _, args := range [][]string{{"-token", "7:x"}, {"-per-minute", "-1"}, {"-chats", "me"}, {"-webhook", "example"}, {"-listen", "here"}, {"extra"}} {
		if _, err := readConfig(args, get); err == nil || strings.Contains(err.Error(), "from_env") {
			t.Errorf("%q: %v", args, err)
		}
	}
	env[tokenEnv] = "no token at all"
	if _, err := readConfig(nil, get); err == nil || strings.Contains(err.Error(), "at all") {
		t.Errorf("a bad token: %v", err)
	}
}

// A message answered end to end: the library, the file, the outbox, loopback. The
// server of the test takes its part of the time.
func BenchmarkServe_messagesOfAHundredChats(b *testing.B) {
	const chats = 100
	s := serving(b, func(c *config) { c.noLimit = true })
	for i := range b.N {
		s.Say(api.Private(int64(i%chats+1)), rollerWithLock)
	}
	if !s.Until(func() bool { return s.Made("sendMessage") >= b.N }) {
		b.Fatalf("%d of %d answered", s.Made("sendMessage"), b.N)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "messages/s")
}
