// Package apitest is a Bot API server for tests. It keeps to the rules that a bot
// can fall foul of: an update is handed out again until a higher offset confirms
// it, a request for updates is held open while there are none, and a webhook is
// called again until it answers with 200. With RecordTo set, what the bot calls is
// written down, to be held against a schema of the Bot API.
package apitest

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode/utf16"
)

// Token is the one token the server knows, Name the bot's name and ID its number.
const (
	Token = "4242:abcDEF_secret-key"
	Name  = "halfweight_bot"
	ID    = 4242
)

// Server is one Bot API with one bot. Make one with New.
type Server struct {
	URL string

	http *httptest.Server
	done chan struct{}

	mu       sync.Mutex
	changed  chan struct{} // closed and made anew when anything changes
	queue    []queued
	updates  int64
	messages int
	calls    []Call
	made     map[string]int
	sent     map[int64][]Sent
	files    map[string]string
	answered map[string]int // callback queries, how often
	failures map[string][]Failure
	gone     map[int64]Failure
	hook     *webhook
	statuses []int // of webhook calls
	handed   map[int64]int
	offset   int64
	hookAt   string

	watch  func(c Call, done bool, result any) (drop bool)
	record *os.File // nil: calls are not written down
}

type queued struct {
	id  int64
	raw []byte
}

type webhook struct {
	url, secret string
	stop        chan struct{}
}

// Call is one call the bot made.
type Call struct {
	Method string
	Params map[string]string
}

// Sent is one message of the bot's as it stands in a chat now.
type Sent struct {
	ID      int
	Text    string
	Buttons []Button
	ReplyTo int
	Edits   int // how often it was changed
	File    string
}

// Button is an inline button.
type Button struct{ Text, Data string }

// Failure is what a call gets in place of its result.
type Failure struct {
	Code       int
	Says       string
	RetryAfter int
	MigrateTo  int64
	Drop       bool // the connection is dropped, before the call has its effect
	DropAfter  bool // and after it
}

// Chat is where a message is.
type Chat struct {
	ID    int64  `json:"id"`
	Type  string `json:"type"`
	Title string `json:"title,omitempty"`
}

// Private and Group are chats by number.
func Private(id int64) Chat { return Chat{ID: id, Type: "private"} }
func Group(id int64) Chat   { return Chat{ID: -id, Type: "group", Title: "bridge crew"} }

// M is a JSON object.
type M = map[string]any

// New is a server on loopback.
func New() *Server {
	s := &Server{
		done: make(chan struct{}), changed: make(chan struct{}), updates: 1000, messages: 100,
		made: map[string]int{}, files: map[string]string{}, sent: map[int64][]Sent{}, answered: map[string]int{}, failures: map[string][]Failure{}, gone: map[int64]Failure{}, handed: map[int64]int{},
	}
	s.record = openRecord()
	s.http = httptest.NewServer(s)
	s.URL = s.http.URL
	return s
}

// Close ends the server.
func (s *Server) Close() {
	close(s.done)
	s.mu.Lock()
	s.unhook()
	s.mu.Unlock()
	s.http.CloseClientConnections()
	s.http.Close()
	if s.record != nil {
		s.record.Close()
	}
}

// note says that something changed. It is called with the lock held.
func (s *Server) note() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// Push queues an update given as JSON; its number is put in for %d.
func (s *Server) Push(format string) int64 {
	return s.PushAll([]string{format})
}

// PushAll queues updates at once and gives the number of the last.
func (s *Server) PushAll(formats []string) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, format := range formats {
		s.updates++
		raw := strings.Replace(format, "%d", strconv.FormatInt(s.updates, 10), 1)
		s.queue = append(s.queue, queued{s.updates, []byte(raw)})
	}
	s.note()
	return s.updates
}

// Update queues an update of a kind.
func (s *Server) Update(kind string, of any) int64 {
	raw, err := json.Marshal(M{kind: of})
	if err != nil {
		panic(err)
	}
	return s.Push(`{"update_id":%d,` + string(raw[1:]))
}

// Message is a message from a person; with fields changed or added.
func (s *Server) Message(chat Chat, text string, with M) M {
	s.mu.Lock()
	s.messages++
	id := s.messages
	s.mu.Unlock()
	m := M{
		"message_id": id, "date": time.Now().Unix(), "chat": chat,
		"from": M{"id": 7, "is_bot": false, "first_name": "A"}, "text": text,
	}
	var marks []M
	for i, word := range strings.Fields(text) {
		at := strings.Index(text, word)
		from, long := len(utf16.Encode([]rune(text[:at]))), len(utf16.Encode([]rune(word)))
		switch {
		case strings.HasPrefix(word, "@"):
			marks = append(marks, M{"type": "mention", "offset": from, "length": long})
		case strings.HasPrefix(word, "/") && i == 0:
			marks = append(marks, M{"type": "bot_command", "offset": from, "length": long})
		}
	}
	if marks != nil {
		m["entities"] = marks
	}
	for k, v := range with {
		m[k] = v
	}
	return m
}

// Say has a person say something and gives the message.
func (s *Server) Say(chat Chat, text string) M {
	m := s.Message(chat, text, nil)
	s.Update("message", m)
	return m
}

// SayFile sends a file to the bot.
func (s *Server) SayFile(chat Chat, name, content string) M {
	s.mu.Lock()
	id := fmt.Sprint("file-", len(s.files))
	s.files[id] = content
	s.mu.Unlock()
	m := s.Message(chat, "", M{"document": M{"file_id": id, "file_unique_id": "u" + id, "file_name": name, "file_size": len(content)}})
	s.Update("message", m)
	return m
}

// Edit has a person change a message.
func (s *Server) Edit(m M, text string) {
	edited := M{}
	for k, v := range m {
		edited[k] = v
	}
	edited["text"], edited["edit_date"] = text, time.Now().Unix()
	s.Update("edited_message", edited)
}

// Press has a person press a button and gives the query's id.
func (s *Server) Press(chat Chat, message int, b Button) string {
	id := fmt.Sprint("q", time.Now().UnixNano())
	s.Update("callback_query", M{
		"id": id, "from": M{"id": 7, "is_bot": false, "first_name": "A"}, "chat_instance": "1", "data": b.Data,
		"message": M{"message_id": message, "date": time.Now().Unix(), "chat": chat, "text": "x"},
	})
	return id
}

// Fail has the next calls of a method fail.
func (s *Server) Fail(method string, f ...Failure) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.failures[method] = append(s.failures[method], f...)
}

// Gone has every message to a chat fail.
func (s *Server) Gone(chat int64, f Failure) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gone[chat] = f
}

// In gives what the bot's messages in a chat are.
func (s *Server) In(chat int64) []Sent {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Sent(nil), s.sent[chat]...)
}

// Calls gives the calls of a method, of all of them for "".
func (s *Server) Calls(method string) []Call {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []Call
	for _, c := range s.calls {
		if method == "" || c.Method == method {
			list = append(list, c)
		}
	}
	return list
}

// Made is how many calls of a method the bot has made.
func (s *Server) Made(method string) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.made[method]
}

// Answered is how often a press was answered.
func (s *Server) Answered(query string) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.answered[query]
}

// Confirmed is the offset below which all updates are confirmed; Handed how often
// an update was handed out.
func (s *Server) Confirmed() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.offset
}

func (s *Server) Handed(update int64) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.handed[update]
}

// Statuses are what the webhook answered, call by call.
func (s *Server) Statuses() []int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]int(nil), s.statuses...)
}

// Secret is what the webhook was set with.
func (s *Server) Secret() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.hook == nil {
		return ""
	}
	return s.hook.secret
}

// HookAt has a webhook called at this host and port, whatever its address says,
// as a proxy before the bot does.
func (s *Server) HookAt(address string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hookAt = address
	s.note()
}

// Until waits until ok holds, for ten seconds at most, and says whether it does.
func (s *Server) Until(ok func() bool) bool {
	late := time.After(30 * time.Second)
	for {
		s.mu.Lock()
		changed := s.changed
		s.mu.Unlock()
		if ok() {
			return true
		}
		select {
		case <-changed:
		case <-time.After(20 * time.Millisecond):
		case <-late:
			return ok()
		}
	}
}

// ServeHTTP answers one call.
func (s *Server) ServeHTTP(w http.ResponseWriter, req *http.Request) {
	if id, ok := strings.CutPrefix(req.URL.Path, "/file/bot"+Token+"/"); ok {
		s.mu.Lock()
		defer s.mu.Unlock()
		io.WriteString(w, s.files[id])
		return
	}
	token, method, _ := strings.Cut(strings.TrimPrefix(req.URL.Path, "/bot"), "/")
	params, err := read(req)
	switch {
	case token != Token:
		s.answer(w, Call{method, params}, nil, Failure{Code: 401, Says: "Unauthorized"})
		return
	case err != nil:
		s.answer(w, Call{method, params}, nil, Failure{Code: 400, Says: "Bad Request: " + err.Error()})
		return
	}
	s.mu.Lock()
	s.calls = append(s.calls, Call{method, params})
	s.made[method]++
	var f Failure
	if list := s.failures[method]; len(list) > 0 {
		f, s.failures[method] = list[0], list[1:]
	}
	s.note()
	watch := s.watch
	s.mu.Unlock()
	if watch == nil {
		watch = func(Call, bool, any) bool { return false }
	}
	if watch(Call{method, params}, false, nil) {
		f.Drop = true
	}
	var result any
	if f.Code == 0 && !f.Drop {
		result, f = s.do(req, method, params, f)
	}
	if !f.Drop && watch(Call{method, params}, true, result) {
		f.DropAfter = true
	}
	s.answer(w, Call{method, params}, result, f)
}

// answer writes a call down and answers it.
func (s *Server) answer(w http.ResponseWriter, c Call, result any, f Failure) {
	s.write(c, f)
	if f.Drop || f.DropAfter {
		panic(http.ErrAbortHandler)
	}
	reply(w, f, result)
}

// read gives the parameters of a call. One without any comes as multipart with an
// empty body, without even the closing boundary.
func read(req *http.Request) (map[string]string, error) {
	kind, with, err := mime.ParseMediaType(req.Header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		return nil, fmt.Errorf("content type %q", req.Header.Get("Content-Type"))
	}
	body, err := io.ReadAll(req.Body)
	params := map[string]string{}
	if err != nil || len(body) == 0 {
		return params, err
	}
	for form := multipart.NewReader(bytes.NewReader(body), with["boundary"]); ; {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			return params, nil
		}
		if err != nil {
			return nil, err
		}
		value, err := io.ReadAll(part)
		if err != nil {
			return nil, err
		}
		params[part.FormName()] = string(value)
	}
}

func reply(w http.ResponseWriter, f Failure, result any) {
	w.Header().Set("Content-Type", "application/json")
	if f.Code == 0 {
		json.NewEncoder(w).Encode(M{"ok": true, "result": result})
		return
	}
	with := M{}
	if f.RetryAfter > 0 {
		with["retry_after"] = f.RetryAfter
	}
	if f.MigrateTo != 0 {
		with["migrate_to_chat_id"] = f.MigrateTo
	}
	w.WriteHeader(f.Code)
	json.NewEncoder(w).Encode(M{"ok": false, "error_code": f.Code, "description": f.Says, "parameters": with})
}

func (s *Server) do(req *http.Request, method string, params map[string]string, f Failure) (any, Failure) {
	refuse := func(why string) (any, Failure) { return nil, Failure{Code: 400, Says: "Bad Request: " + why} }
	switch method {
	case "getMe":
		return M{"id": ID, "is_bot": true, "first_name": "halfweight", "username": Name}, f
	case "getUpdates":
		s.mu.Lock()
		hooked := s.hook != nil
		s.mu.Unlock()
		if hooked {
			return nil, Failure{Code: 409, Says: "Conflict: can't use getUpdates method while webhook is active"}
		}
		return s.hand(req, params), f
	case "setMyCommands", "answerCallbackQuery", "deleteWebhook", "setWebhook":
		s.mu.Lock()
		defer s.mu.Unlock()
		switch method {
		case "answerCallbackQuery":
			s.answered[params["callback_query_id"]]++
		case "deleteWebhook":
			s.unhook()
		case "setWebhook":
			s.unhook()
			s.hook = &webhook{params["url"], params["secret_token"], make(chan struct{})}
			go s.deliver(s.hook)
		}
		s.note()
		return true, f
	case "getFile":
		s.mu.Lock()
		defer s.mu.Unlock()
		if _, ok := s.files[params["file_id"]]; !ok {
			return refuse("wrong file_id")
		}
		return M{"file_id": params["file_id"], "file_unique_id": "u", "file_path": params["file_id"]}, f
	case "sendMessage", "editMessageText":
	case "sendDocument":
		if params["document"] == "" {
			return refuse("there is no document in the request")
		}
	default:
		return refuse("unknown method " + method)
	}

	chat, err := strconv.ParseInt(params["chat_id"], 10, 64)
	if err != nil {
		return refuse("chat_id")
	}
	text := params["text"]
	if method == "sendDocument" {
		text = params["caption"]
	}
	if strings.TrimSpace(text) == "" {
		return refuse("message text is empty")
	}
	if len(utf16.Encode([]rune(text))) > 4096 {
		return refuse("message is too long")
	}
	buttons, err := buttonsOf(params["reply_markup"])
	if err != nil {
		return refuse(err.Error())
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.note()
	if f, ok := s.gone[chat]; ok {
		return nil, f
	}
	m := Sent{Text: text, Buttons: buttons, File: params["document"]}
	if method == "editMessageText" {
		for i, old := range s.sent[chat] {
			if strconv.Itoa(old.ID) != params["message_id"] {
				continue
			}
			m.ID, m.ReplyTo, m.Edits = old.ID, old.ReplyTo, old.Edits+1
			if old.Text == m.Text && fmt.Sprint(old.Buttons) == fmt.Sprint(m.Buttons) {
				return refuse("message is not modified: specified new message content and reply markup are exactly the same")
			}
			s.sent[chat][i] = m
			return M{"message_id": m.ID, "date": 1, "chat": M{"id": chat, "type": "private"}, "text": text}, f
		}
		return refuse("message to edit not found")
	}
	if to := params["reply_parameters"]; to != "" {
		var r struct {
			ID int `json:"message_id"`
		}
		if err := json.Unmarshal([]byte(to), &r); err != nil {
			return refuse("reply_parameters")
		}
		m.ReplyTo = r.ID
	}
	s.messages++
	m.ID = s.messages
	s.sent[chat] = append(s.sent[chat], m)
	return M{"message_id": m.ID, "date": 1, "chat": M{"id": chat, "type": "private"}, "text": text}, f
}

// buttonsOf reads an inline keyboard, each button of which does one thing.
func buttonsOf(markup string) ([]Button, error) {
	if markup == "" {
		return nil, nil
	}
	var k struct {
		Rows [][]map[string]json.RawMessage `json:"inline_keyboard"`
	}
	if err := json.Unmarshal([]byte(markup), &k); err != nil {
		return nil, err
	}
	var list []Button
	for _, row := range k.Rows {
		for _, b := range row {
			var text, data string
			if json.Unmarshal(b["text"], &text) != nil || json.Unmarshal(b["callback_data"], &data) != nil || text == "" || len(b) != 2 {
				return nil, fmt.Errorf("BUTTON_TYPE_INVALID %s", markup)
			}
			if len(data) < 1 || len(data) > 64 {
				return nil, errors.New("BUTTON_DATA_INVALID")
			}
			list = append(list, Button{text, data})
		}
	}
	return list, nil
}

// hand hands out what is not confirmed, or waits for something to hand out.
func (s *Server) hand(req *http.Request, params map[string]string) []json.RawMessage {
	offset, _ := strconv.ParseInt(params["offset"], 10, 64)
	timeout, _ := strconv.Atoi(params["timeout"])
	late := time.After(time.Duration(timeout) * time.Second)
	for {
		s.mu.Lock()
		for len(s.queue) > 0 && s.queue[0].id < offset {
			s.queue = s.queue[1:]
		}
		s.offset = max(s.offset, offset)
		batch := []json.RawMessage{}
		for _, u := range s.queue[:min(len(s.queue), 100)] {
			batch = append(batch, u.raw)
			s.handed[u.id]++
		}
		changed := s.changed
		s.mu.Unlock()
		if len(batch) > 0 {
			return batch
		}
		select {
		case <-changed:
		case <-late:
			return batch
		case <-req.Context().Done():
			return batch
		case <-s.done:
			return batch
		}
	}
}

func (s *Server) unhook() {
	if s.hook != nil {
		close(s.hook.stop)
		s.hook = nil
	}
}

// deliver calls a webhook with each update until it answers with 200.
func (s *Server) deliver(hook *webhook) {
	for {
		s.mu.Lock()
		changed, waiting, hookAt := s.changed, len(s.queue) > 0, s.hookAt
		var u queued
		if waiting {
			u = s.queue[0]
		}
		s.mu.Unlock()
		if !waiting {
			select {
			case <-changed:
				continue
			case <-hook.stop:
				return
			}
		}
		status := 0
		req, err := http.NewRequest("POST", hook.url, bytes.NewReader(u.raw))
		if err == nil {
			if hookAt != "" {
				req.URL.Host = hookAt
			}
			req.Header.Set("Content-Type", "application/json")
			req.Header.Set("X-Telegram-Bot-Api-Secret-Token", hook.secret)
			if resp, err := http.DefaultClient.Do(req); err == nil {
				status = resp.StatusCode
				resp.Body.Close()
			}
		}
		s.mu.Lock()
		s.statuses = append(s.statuses, status)
		s.handed[u.id]++
		if status == http.StatusOK && len(s.queue) > 0 && s.queue[0].id == u.id { // a webhook set anew has it too
			s.queue = s.queue[1:]
		}
		s.note()
		s.mu.Unlock()
		wait := time.Millisecond
		if status != http.StatusOK {
			wait = 20 * time.Millisecond
		}
		select {
		case <-time.After(wait):
		case <-hook.stop:
			return
		}
	}
}
