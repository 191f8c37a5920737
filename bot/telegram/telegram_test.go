package telegram

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"halfweight/bot/wire"
)

const token = "4242:abcDEF_secret-key"

var us = reader{id: 4242, name: "halfweight_bot", menu: []Command{{Name: "need", Sends: "what do I need"}}}

// marked is a message with its entities found as Telegram finds them: offsets
// count UTF-16 units (Bot API, MessageEntity).
func marked(kind models.ChatType, text string) *models.Message {
	m := &models.Message{ID: 5, Date: 1, Chat: models.Chat{ID: 1, Type: kind}, From: &models.User{ID: 7}, Text: text}
	units := func(s string) int { return len(utf16.Encode([]rune(s))) }
	for at := 0; at < len(text); {
		word, _, _ := strings.Cut(text[at:], " ")
		e := models.MessageEntity{Offset: units(text[:at]), Length: units(word)}
		switch {
		case strings.HasPrefix(word, "@"):
			e.Type = models.MessageEntityTypeMention
		case strings.HasPrefix(word, "/") && (at == 0 || text[at-1] == ' '):
			e.Type = models.MessageEntityTypeBotCommand
		}
		if e.Type != "" {
			m.Entities = append(m.Entities, e)
		}
		at += len(word) + 1
	}
	return m
}

func TestWords_ofAMessage(t *testing.T) {
	const private, group = models.ChatTypePrivate, models.ChatTypeGroup
	for _, c := range []struct {
		kind  models.ChatType
		sent  string
		text  string
		forUs bool
	}{
		{private, "4x 3/8 g70", "4x 3/8 g70", true},
		{private, "/help", "help", true},
		{private, "/need", "what do I need", true},
		{private, "/new_load 14000 lb roller", "new load 14000 lb roller", true},
		{private, "/start", "help", true},
		{private, "/start alder", "alder", true},
		{private, "/3/8 g70", "/3/8 g70", true},
		{private, "🚜 /help", "🚜 /help", true},
		{group, "4x 3/8 g70", "4x 3/8 g70", false},
		{group, "@halfweight_bot 4x 3/8 g70", "4x 3/8 g70", true},
		{group, "@HalfWeight_Bot , 4x", "4x", true},
		{group, "🚜🚜 roller @halfweight_bot 4x 3/8", "🚜🚜 roller   4x 3/8", true},
		{group, "@halfweight_bots 4x", "@halfweight_bots 4x", false},
		{group, "/need", "what do I need", true},
		{group, "/need@halfweight_bot", "what do I need", true},
		{group, "/need@other_bot", "need@other bot", false},
		{group, "@halfweight_bot /undo", "undo", true},
	} {
		text, forUs := us.words(marked(c.kind, c.sent))
		if forUs != c.forUs || forUs && text != c.text {
			t.Errorf("%s %q: %q %v, want %q %v", c.kind, c.sent, text, forUs, c.text, c.forUs)
		}
	}
}

func TestRead_editNamesTheMessageItChanges(t *testing.T) {
	now := time.Unix(1000, 0)
	m := marked(models.ChatTypePrivate, "4x 3/8")
	first := us.read(&models.Update{ID: 9, Message: m}, now)
	edit := us.read(&models.Update{ID: 10, EditedMessage: m}, now)
	if edit.in.Edits != first.in.ID || edit.in.ID == first.in.ID || first.in.Edits != "" {
		t.Errorf("message %+v, its edit %+v", first.in, edit.in)
	}
	if again := us.read(&models.Update{ID: 11, EditedMessage: m}, now); again.in.ID == edit.in.ID {
		t.Error("two edits have one id")
	}
	later := *m
	later.Date++
	if us.read(&models.Update{ID: 12, Message: &later}, now).in.ID == first.in.ID {
		t.Error("message 5 of a group and message 5 of the supergroup it became have one id")
	}
}

func TestClassify_wrappedErrorsToo(t *testing.T) {
	tg, err := New(Options{Token: token})
	if err != nil {
		t.Fatal(err)
	}
	wrap := func(err error) error { return fmt.Errorf("outer: %w", fmt.Errorf("inner: %w", err)) }

	var retry wire.ErrRetry
	if err := tg.classify(wrap(&bot.TooManyRequestsError{RetryAfter: 7})); !errors.As(err, &retry) || retry.After != 7*time.Second {
		t.Errorf("429 is %v", err)
	}
	if err := tg.classify(wrap(&bot.TooManyRequestsError{})); !errors.As(err, &retry) || retry.After < time.Second {
		t.Errorf("429 without a time is %v", err)
	}
	var moved wire.ErrMoved
	if err := tg.classify(wrap(&bot.MigrateError{MigrateToChatID: -1001234567890})); !errors.As(err, &moved) || moved.To != "tg:-1001234567890" {
		t.Errorf("a move is %v", err)
	}
	for text, want := range map[string]error{
		"forbidden, bot was blocked by the user":                                 wire.ErrGone,
		"bad request, chat not found":                                            wire.ErrGone,
		"bad request, not enough rights to send text messages to the chat":       wire.ErrGone,
		"bad request, BUTTON_DATA_INVALID":                                       wire.ErrRefused,
		"error response from telegram for method sendMessage, 502 " + token + "": nil,
	} {
		kind := bot.ErrorBadRequest
		switch {
		case strings.HasPrefix(text, "forbidden"):
			kind = bot.ErrorForbidden
		case strings.HasPrefix(text, "error"):
			kind = errors.New("other")
		}
		err := tg.classify(wrap(fmt.Errorf("%w, %s", kind, text)))
		for _, e := range []error{wire.ErrGone, wire.ErrRefused} {
			if errors.Is(err, e) != (e == want) {
				t.Errorf("%q is %v", text, err)
			}
		}
		if strings.Contains(err.Error(), "secret-key") {
			t.Errorf("the token is in %v", err)
		}
	}
	err = tg.classify(&url.Error{Op: "Post", URL: "https://api.telegram.org/bot" + token + "/getMe", Err: errors.New("dial")})
	if strings.Contains(fmt.Sprintf("%v %+v %#v", err, err, err), "secret-key") {
		t.Errorf("the token is in %#v", err)
	}
}

func TestKeyboard_carriesWhatWasAskedAndTheWords(t *testing.T) {
	b := wire.Body{Event: "m5.1", Buttons: []string{"YES", "NO", "DON'T KNOW", strings.Repeat("long ", 20), "OVER THE JOINT"}}
	sent, err := json.Marshal(keyboardOf(b))
	if err != nil {
		t.Fatal(err)
	}
	want := `{"inline_keyboard":[[{"text":"YES","callback_data":"m5.1 YES"},{"text":"NO","callback_data":"m5.1 NO"},` +
		`{"text":"DON'T KNOW","callback_data":"m5.1 DON'T KNOW"}],[{"text":"OVER THE JOINT","callback_data":"m5.1 OVER THE JOINT"}]]}`
	if string(sent) != want {
		t.Errorf("sent %s\nwant %s", sent, want)
	}
	if keyboardOf(wire.Body{}) != nil {
		t.Error("no buttons are a keyboard")
	}
}

// No update panics, and what comes of one can be stored: names are short, and an
// event is of a chat.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		`{"update_id":1,"message":{"message_id":1,"date":1,"chat":{"id":-5,"type":"group"},"text":"🚜 @halfweight_bot 4x","entities":[{"type":"mention","offset":3,"length":15}]}}`,
		`{"update_id":1,"message":{"message_id":1,"date":1,"chat":{"id":3},"text":"a","entities":[{"type":"bot_command","offset":-9,"length":99}]}}`,
		`{"update_id":2,"edited_message":{"message_id":1,"date":1,"chat":{"id":3,"type":"private"},"caption":"/start x"}}`,
		`{"update_id":3,"callback_query":{"id":"9","from":{"id":1},"data":"m1.1 YES","message":{"message_id":1,"date":0,"chat":{"id":3}}}}`,
		`{"update_id":4,"my_chat_member":{"chat":{"id":-5,"type":"group"},"from":{},"date":1,"old_chat_member":{"status":"left"},"new_chat_member":{"status":"member"}}}`,
		`{"update_id":5,"message":{"forward_origin":{"type":"by_pigeon"},"chat":{"id":"x"}}}`,
		`{"update_id":6,"message":{"message_id":1,"date":1,"chat":{"id":-5},"migrate_to_chat_id":-100}}`,
		`[]`, `{"update_id":1e99}`, `null`,
	} {
		f.Add([]byte(seed))
	}
	now := time.Unix(1_800_000_000, 0)
	f.Fuzz(func(t *testing.T, raw []byte) {
		u, ok := decode(raw)
		if !ok {
			return
		}
		e := us.read(u, now)
		if e.in.ID == "" {
			return
		}
		if _, ok := chatID(e.in.Chat); !ok || len(e.in.ID) > 100 || len(e.in.Edits) > 100 {
			t.Errorf("event %q of chat %q", e.in.ID, e.in.Chat)
		}
		if e.in.At.After(now) || now.Sub(e.in.At) > 8*24*time.Hour {
			t.Errorf("it came at %v", e.in.At)
		}
		messageOf(e.in.ID)
	})
}
