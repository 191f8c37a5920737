package telegram

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"halfweight/bot/wire"
)

// Send sends one body, or puts it in the place of the one it replaces; one that
// cannot be changed any more is sent anew. In a group it is a reply to the
// message answered, so that it is seen whom it answers; not in a supergroup that
// was a group then, where that number is another message's. A press that it
// answers is answered first.
func (t *Transport) Send(ctx context.Context, chat string, b wire.Body) (string, error) {
	id, ok := chatID(chat)
	if !ok {
		return "", fmt.Errorf("send to %q: %w", chat, wire.ErrRefused)
	}
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	if err := t.answerPress(ctx, b.Press); err != nil {
		return "", t.count(err)
	}
	if old, err := strconv.Atoi(b.Replaces); err == nil {
		err := t.change(ctx, id, old, b)
		if err == nil || !errors.Is(err, wire.ErrRefused) || b.InPlace {
			return b.Replaces, t.count(err)
		}
	}
	params := &bot.SendMessageParams{ChatID: id, Text: b.Text, ReplyMarkup: keyboardOf(b)}
	if answered := messageOf(b.Event); id < 0 && answered > 0 && (b.Chat == chat || b.Chat == "") {
		params.ReplyParameters = &models.ReplyParameters{MessageID: answered, AllowSendingWithoutReply: true}
	}
	m, err := t.bot.SendMessage(ctx, params)
	if err != nil {
		return "", t.count(t.classify(err))
	}
	t.count(nil)
	return strconv.Itoa(m.ID), nil
}

func (t *Transport) change(ctx context.Context, chat int64, message int, b wire.Body) error {
	_, err := t.bot.EditMessageText(ctx, &bot.EditMessageTextParams{
		ChatID: chat, MessageID: message, Text: b.Text, ReplyMarkup: keyboardOf(b),
	})
	if err == nil || errors.Is(err, bot.ErrorBadRequest) && strings.Contains(err.Error(), "message is not modified") {
		return nil
	}
	return t.classify(err)
}

// count counts what became of a send.
func (t *Transport) count(err error) error {
	var retry wire.ErrRetry
	switch {
	case err == nil:
		t.opts.Count("sent")
	case errors.As(err, &retry):
		t.opts.Count("told_to_wait")
	default:
		t.opts.Count("send_failures")
	}
	return err
}

// gone are what Telegram says, with a 400, of a chat that takes no messages from
// the bot. With a 403 it is always so.
var gone = []string{
	"chat not found", "PEER_ID_INVALID", "group chat was deactivated", "CHAT_WRITE_FORBIDDEN",
	"rights to send", "administrator rights",
}

// classify says in the terms of transports what an error of a call means. The
// token is in none of them.
func (t *Transport) classify(err error) error {
	text := t.redact(err)
	var wait *bot.TooManyRequestsError
	var moved *bot.MigrateError
	switch {
	case errors.As(err, &wait):
		return fmt.Errorf("%w (%v)", wire.ErrRetry{After: time.Duration(max(wait.RetryAfter, 1)) * time.Second}, text)
	case errors.As(err, &moved):
		return fmt.Errorf("%w (%v)", wire.ErrMoved{To: chatName(int64(moved.MigrateToChatID))}, text)
	case errors.Is(err, bot.ErrorForbidden):
		return fmt.Errorf("%w (%v)", wire.ErrGone, text)
	case errors.Is(err, bot.ErrorBadRequest):
		for _, words := range gone {
			if strings.Contains(text.Error(), words) {
				return fmt.Errorf("%w (%v)", wire.ErrGone, text)
			}
		}
		return fmt.Errorf("%w (%v)", wire.ErrRefused, text)
	}
	return text
}

// keyboard is an inline keyboard. The library's own type sends an empty copy_text
// with every button, and a button may do one thing only.
type keyboard struct {
	Rows [][]button `json:"inline_keyboard"`
}

type button struct {
	Text string `json:"text"`
	Data string `json:"callback_data"`
}

const (
	maxData  = 64 // bytes of callback_data
	rowRunes = 24 // that stand beside each other on a small screen
)

// keyboardOf is the buttons of a body, nil for none. Each carries the event that
// asked and its own words; one whose words do not fit is left out and can be
// typed, for the options stand in the text too.
func keyboardOf(b wire.Body) models.ReplyMarkup {
	var k keyboard
	room := 0
	for _, words := range b.Buttons {
		data := b.Event + " " + words
		if len(data) > maxData || words == "" {
			continue
		}
		n := utf8.RuneCountInString(words)
		if room -= n; room < 0 {
			k.Rows = append(k.Rows, nil)
			room = rowRunes - n
		}
		last := &k.Rows[len(k.Rows)-1]
		*last = append(*last, button{Text: words, Data: data})
	}
	if k.Rows == nil {
		return nil
	}
	return k
}

// answerPress ends the waiting of the one who pressed a button; "" is no press.
// One answered before, or too old to be, needs no answer any more.
func (t *Transport) answerPress(ctx context.Context, press string) error {
	if press == "" {
		return nil
	}
	_, err := t.bot.AnswerCallbackQuery(ctx, &bot.AnswerCallbackQueryParams{CallbackQueryID: press})
	if err == nil || errors.Is(err, bot.ErrorBadRequest) {
		return nil
	}
	return t.classify(err)
}

// dismiss answers a press that nothing comes of: one that no button of the bot's
// can be, or of a chat that is not let in. It is tried once.
func (t *Transport) dismiss(press string) {
	ctx, cancel := context.WithTimeout(context.Background(), callTime/2)
	defer cancel()
	if err := t.answerPress(ctx, press); err != nil {
		t.opts.Count("press_unanswered")
	}
}

func (t *Transport) setMenu(ctx context.Context) error {
	if len(t.opts.Menu) == 0 {
		return nil
	}
	params := &bot.SetMyCommandsParams{}
	for _, c := range t.opts.Menu {
		params.Commands = append(params.Commands, models.BotCommand{Command: c.Name, Description: c.About})
	}
	_, err := t.bot.SetMyCommands(ctx, params)
	return err
}
