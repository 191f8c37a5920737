package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"halfweight/bot/engine"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// canned answers every call to Telegram without a network.
type canned func(method string) string

func (c canned) RoundTrip(req *http.Request) (*http.Response, error) {
	if req.Body != nil {
		io.Copy(io.Discard, req.Body)
		req.Body.Close()
	}
	method := req.URL.Path[strings.LastIndexByte(req.URL.Path, '/')+1:]
	return &http.Response{StatusCode: 200, Header: http.Header{}, Body: io.NopCloser(strings.NewReader(c(method)))}, nil
}

const bystander = 987654321

// wholeBot is a bot, from what Telegram says to what is stored. updates is what a
// request for them brings.
func wholeBot(t *testing.T, updates string) (*Transport, *sessions.Memory) {
	t.Helper()
	tg, err := New(Options{Token: token})
	if err != nil {
		t.Fatal(err)
	}
	tg.poller.client = &http.Client{Transport: canned(func(method string) string {
		if method == "getUpdates" {
			return updates
		}
		return `{"ok":true,"result":true}`
	})}
	store := &sessions.Memory{}
	e := engine.New(store, tg)
	tg.begin(&session{reader: us, hands: newHands(), deliver: func(ctx context.Context, in wire.In) ([]wire.Body, error) {
		r, err := e.Handle(ctx, in)
		return r.Bodies, err
	}})
	t.Cleanup(tg.presses.Wait)
	return tg, store
}

// answered says whether the bystander's message is.
func answered(t *testing.T, store *sessions.Memory) bool {
	t.Helper()
	row, ok, err := store.Next(t.Context(), chatName(bystander))
	return err == nil && ok && strings.Contains(string(row.Body), "Roller, 14,000 lb")
}

// No update, however odd, stops the bot or another chat: what comes behind it is
// answered and confirmed, by polling and by webhook.
func FuzzUpdate(f *testing.F) {
	slog.SetDefault(slog.New(slog.DiscardHandler))
	message := func(with string) string {
		return `{"update_id":7,"message":{"message_id":1,"date":1,"chat":{"id":3,"type":"private"},"from":{"id":7},` + with + `}}`
	}
	for _, seed := range []string{
		``, `null`, `[]`, `{}`, `"update"`, `0`, `{"update_id":-1}`, `{"update_id":1e99}`, `{"update_id":"7"}`, `{"update_id":7}`,
		`{"update_id":7,"message":null}`, `{"update_id":7,"message":[1,2]}`, `{"update_id":7,"new_kind":{"a":[[[[]]]]}}`,
		message(`"text":"14000 lb roller, lock bar in, 4x 3/8 g70 direct"`), message(`"text":"forget me"`), message(`"text":"\ud83d\u0000"`),
		message(`"text":"x","entities":[{"type":"mention","offset":-3,"length":900},{"type":"bot_command","offset":2147483647,"length":2147483647}]`),
		message(`"caption":"/start x","photo":[{}],"media_group_id":"` + strings.Repeat("9", 3000) + `"`),
		message(`"forward_origin":{"type":"by_pigeon"},"text":"help"`), message(`"text":"` + strings.Repeat("4x 3/8 g70 ", 900) + `"`),
		message(`"migrate_to_chat_id":3`), message(`"migrate_to_chat_id":-1003`), message(`"migrate_from_chat_id":-5`),
		strings.Replace(message(`"edit_date":99999999999,"text":"gear 6x 3/8 g70"`), `"message"`, `"edited_message"`, 1),
		`{"update_id":7,"callback_query":{"id":"","from":{}}}`,
		`{"update_id":7,"callback_query":{"id":"` + strings.Repeat("9", 5000) + `","from":{"id":1},"data":"m1.1 YES","message":{"message_id":1,"date":0,"chat":{"id":3}}}}`,
		`{"update_id":7,"my_chat_member":{"chat":{"id":-5,"type":"group"},"from":{},"date":1,"old_chat_member":{"status":"ghost"},"new_chat_member":{"status":"member"}}}`,
		`{"update_id":7,"message":` + strings.Repeat(`{"reply_to_message":`, 200) + `{}` + strings.Repeat(`}`, 201),
	} {
		f.Add([]byte(seed))
	}
	good := fmt.Sprintf(`{"update_id":8,"message":{"message_id":2,"date":1,"chat":{"id":%d,"type":"private"},"from":{"id":8},"text":"14000 lb roller, lock bar in, 4x 3/8 g70 direct"}}`, bystander)
	f.Fuzz(func(t *testing.T, raw []byte) {
		if bytes.Contains(raw, []byte(fmt.Sprint(bystander))) {
			t.Skip("it speaks for the other chat")
		}
		byWebhook(t, raw, good)
		if json.Valid(raw) { // else it cannot stand in Telegram's answer
			byPolling(t, raw, good)
		}
	})
}

func byWebhook(t *testing.T, raw []byte, good string) {
	tg, store := wholeBot(t, "")
	for i, body := range []string{string(raw), good} {
		call := httptest.NewRequest("POST", "/hook", strings.NewReader(body))
		call.Header.Set("X-Telegram-Bot-Api-Secret-Token", tg.secret)
		got := httptest.NewRecorder()
		tg.ServeHTTP(got, call)
		if got.Code != 200 && (got.Code != 400 || i == 1) {
			t.Errorf("the webhook answers %d to %.300s", got.Code, body)
		}
	}
	if !answered(t, store) {
		t.Errorf("by webhook, another chat is not answered behind %.300s", raw)
	}
}

func byPolling(t *testing.T, raw []byte, good string) {
	tg, store := wholeBot(t, `{"ok":true,"result":[`+string(raw)+`,`+good+`]}`)
	req, err := http.NewRequest("POST", "http://bot.test/bot/getUpdates", nil)
	if err != nil {
		t.Fatal(err)
	}
	resp, err := tg.poller.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	body, _ := io.ReadAll(resp.Body)
	if want := `{"ok":true,"result":[{"update_id":8}]}`; string(body) != want {
		t.Errorf("the library goes on from %s, behind %.300s", body, raw)
	}
	tg.poller.held.Wait()
	if !answered(t, store) {
		t.Errorf("by polling, another chat is not answered behind %.300s", raw)
	}
}
