package telegram

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"github.com/go-telegram/bot/models"

	"halfweight/bot/wire"
)

// kinds are the updates asked for.
var kinds = []string{
	models.AllowedUpdateMessage, models.AllowedUpdateEditedMessage,
	models.AllowedUpdateCallbackQuery, models.AllowedUpdateMyChatMember,
}

// event is what an update is to the bot.
type event struct {
	in    wire.In // without an ID there is nothing to deliver
	press string  // the callback query that wants an answer
}

// decode reads an update. What the library cannot read whole, since Telegram has
// something new, it reads for what the bot needs of it; ok is false where not
// even the number of the update is told.
func decode(raw []byte) (u *models.Update, ok bool) {
	u = new(models.Update)
	if json.Unmarshal(raw, u) == nil {
		return u, u.ID > 0
	}
	var slim slimUpdate
	if json.Unmarshal(raw, &slim) != nil {
		slim = slimUpdate{}
		var id struct {
			ID int64 `json:"update_id"`
		}
		if json.Unmarshal(raw, &id) != nil {
			return nil, false
		}
		slim.ID = id.ID
	}
	again, err := json.Marshal(slim)
	u = new(models.Update)
	if err != nil || json.Unmarshal(again, u) != nil {
		return nil, false
	}
	return u, u.ID > 0
}

// slimUpdate is an update without the fields the bot has no use for.
type slimUpdate struct {
	ID      int64        `json:"update_id"`
	Message *slimMessage `json:"message,omitempty"`
	Edited  *slimMessage `json:"edited_message,omitempty"`
	Press   *struct {
		ID      string       `json:"id"`
		Data    string       `json:"data"`
		Message *slimMessage `json:"message"`
	} `json:"callback_query,omitempty"`
}

type slimMessage struct {
	ID       int                    `json:"message_id"`
	Date     int                    `json:"date"`
	EditDate int                    `json:"edit_date,omitempty"`
	Chat     models.Chat            `json:"chat"`
	From     *models.User           `json:"from,omitempty"`
	Text     string                 `json:"text,omitempty"`
	Entities []models.MessageEntity `json:"entities,omitempty"`
	Caption  string                 `json:"caption,omitempty"`
	Captions []models.MessageEntity `json:"caption_entities,omitempty"`
	To       *struct {
		ID   int          `json:"message_id"`
		From *models.User `json:"from,omitempty"`
		Chat models.Chat  `json:"chat"`
		Date int          `json:"date"`
	} `json:"reply_to_message,omitempty"`
	MovedTo   int64 `json:"migrate_to_chat_id,omitempty"`
	MovedFrom int64 `json:"migrate_from_chat_id,omitempty"`
}

// read is the reader's, and a panic of it costs the one update.
func (t *Transport) read(s *session, u *models.Update) (e event) {
	defer func() {
		if p := recover(); p != nil {
			t.opts.Count("odd")
			slog.Error("an update cannot be read", "update", u.ID, "panic", p, "stack", string(debug.Stack()))
			e = event{}
		}
	}()
	t.opts.Count("updates")
	return s.reader.read(u, time.Now())
}

// store delivers an event. With an error nothing was stored. A press is answered
// with its reply, which waits in the outbox until it is sent: a kill loses none.
// One that nobody replies to is answered here.
func (t *Transport) store(ctx context.Context, s *session, e event) error {
	replies := 0
	if e.in.ID != "" {
		bodies, err := s.deliver(ctx, e.in)
		if err != nil {
			return err
		}
		replies = len(bodies)
	}
	if e.press != "" && replies == 0 {
		t.presses.Go(func() { t.dismiss(e.press) })
	}
	return nil
}

// reader makes events of updates.
type reader struct {
	id   int64  // the bot's own
	name string // the bot's own, without @
	menu []Command
}

func (r *reader) read(u *models.Update, now time.Time) event {
	switch {
	case u.Message != nil:
		return event{in: r.message(u.Message, now)}
	case u.EditedMessage != nil:
		in := r.message(u.EditedMessage, now)
		if in.ID != "" {
			in.Edits = in.ID
			in.ID = fmt.Sprintf("e%d.%d", u.EditedMessage.ID, u.ID)
			in.At = moment(u.EditedMessage.EditDate, now)
		}
		return event{in: in}
	case u.CallbackQuery != nil:
		return press(u.CallbackQuery, now)
	case u.MyChatMember != nil:
		return event{in: joined(u.MyChatMember, u.ID, now)}
	}
	return event{}
}

// message is a message's event. Its ID holds the time too, since the numbers of
// messages begin anew when a group becomes a supergroup.
func (r *reader) message(m *models.Message, now time.Time) wire.In {
	in := wire.In{Chat: chatName(m.Chat.ID), At: moment(m.Date, now)}
	switch {
	case m.MigrateToChatID != 0:
		in.MovedFrom, in.Chat = in.Chat, chatName(m.MigrateToChatID)
	case m.MigrateFromChatID != 0:
		in.MovedFrom = chatName(m.MigrateFromChatID)
	case m.Chat.Type == models.ChatTypeChannel, m.From != nil && m.From.ID == r.id:
		return wire.In{Chat: in.Chat}
	default:
		text, forUs := r.words(m)
		in.Text, in.Other = text, other(m)
		if !forUs || m.Text == "" && in.Text == "" && in.Other == "" {
			return wire.In{Chat: in.Chat}
		}
	}
	in.ID = fmt.Sprintf("m%d.%d", m.ID, m.Date)
	if m.MediaGroupID != "" && in.Text == "" {
		in.ID = "a." + short(m.MediaGroupID) // an album is answered once
	}
	return in
}

// press is what a pressed button is: its words, sent as the answer to the
// question it stood under.
func press(q *models.CallbackQuery, now time.Time) event {
	e := event{press: q.ID}
	chat, message := int64(0), 0
	switch m := q.Message; {
	case m.Message != nil:
		chat, message = m.Message.Chat.ID, m.Message.ID
	case m.InaccessibleMessage != nil:
		chat, message = m.InaccessibleMessage.Chat.ID, m.InaccessibleMessage.MessageID
	}
	asked, words, ok := strings.Cut(q.Data, " ")
	if chat != 0 && ok && asked != "" {
		e.in = wire.In{
			ID: fmt.Sprintf("p%d.%s", message, short(q.ID)), Chat: chatName(chat), At: now,
			Text: words, Pressed: asked, Press: q.ID,
		}
	}
	return e
}

// joined greets a group that the bot was put into.
func joined(c *models.ChatMemberUpdated, update int64, now time.Time) wire.In {
	isIn := func(m models.ChatMember) bool {
		return m.Type == models.ChatMemberTypeMember || m.Type == models.ChatMemberTypeAdministrator
	}
	if !group(c.Chat.Type) || isIn(c.OldChatMember) || !isIn(c.NewChatMember) {
		return wire.In{Chat: chatName(c.Chat.ID)}
	}
	return wire.In{ID: fmt.Sprintf("j.%d", update), Chat: chatName(c.Chat.ID), At: moment(c.Date, now), Text: "help"}
}

func group(t models.ChatType) bool {
	return t == models.ChatTypeGroup || t == models.ChatTypeSupergroup
}

// moment is a time Telegram tells, or now where it tells none that can be.
func moment(seconds int, now time.Time) time.Time {
	const week = 7 * 24 * time.Hour
	at := time.Unix(int64(seconds), 0)
	if seconds <= 0 || at.After(now) || at.Before(now.Add(-week)) {
		return now
	}
	return at
}

// short is an id of Telegram's, or its hash where it is long.
func short(id string) string {
	const most = 40
	if len(id) <= most {
		return id
	}
	sum := sha256.Sum256([]byte(id))
	return hex.EncodeToString(sum[:most/2])
}

// messageOf is the number of the message an event is about, 0 for none.
func messageOf(event string) int {
	if event == "" {
		return 0
	}
	number, _, _ := strings.Cut(event[1:], ".")
	n, err := strconv.Atoi(number)
	if err != nil {
		return 0
	}
	return n
}

// words is the text of a message or under its picture, without what only calls
// the bot: a mention of it, "/help" for "help". In a group a message is for the
// bot when it names it, answers it or is a command that is not another's.
func (r *reader) words(m *models.Message) (text string, forUs bool) {
	text, marks := m.Text, m.Entities
	if text == "" {
		text, marks = m.Caption, m.CaptionEntities
	}
	forUs = !group(m.Chat.Type) ||
		m.ReplyToMessage != nil && m.ReplyToMessage.From != nil && m.ReplyToMessage.From.ID == r.id

	units := utf16.Encode([]rune(text)) // what offsets count
	calls := make([]bool, len(units))   // units that only call the bot
	others := false
	for _, mark := range marks {
		from, to := mark.Offset, mark.Offset+mark.Length
		if from < 0 || to > len(units) || from >= to {
			continue
		}
		marked := string(utf16.Decode(units[from:to]))
		switch mark.Type {
		case models.MessageEntityTypeMention:
			if !r.named(marked) {
				continue
			}
		case models.MessageEntityTypeTextMention:
			if mark.User == nil || mark.User.ID != r.id {
				continue
			}
		case models.MessageEntityTypeBotCommand:
			command, whose, ok := strings.Cut(marked, "@")
			if ok && !r.named("@"+whose) {
				others = others || from == 0
				continue
			}
			forUs = forUs || ok || from == 0
			from += len(utf16.Encode([]rune(command)))
		default:
			continue
		}
		for i := from; i < to; i++ {
			forUs, calls[i] = true, true
		}
	}
	atStart := len(calls) > 0 && calls[0]
	left := make([]uint16, 0, len(units))
	for i, unit := range units {
		switch {
		case !calls[i]:
			left = append(left, unit)
		case i == 0 || !calls[i-1]:
			left = append(left, ' ')
		}
	}
	if text = strings.TrimSpace(string(utf16.Decode(left))); atStart {
		text = strings.TrimLeft(text, " ,:")
	}
	return r.command(text), forUs && !(others && group(m.Chat.Type))
}

func (r *reader) named(mention string) bool {
	return r.name != "" && strings.EqualFold(mention, "@"+r.name)
}

// command is what a text that begins with a command of the client's menu sends.
// "/start" comes from the button that opens a chat, and what stands behind it
// from the link that led there.
func (r *reader) command(text string) string {
	if len(text) < 2 || text[0] != '/' || (text[1]|0x20) < 'a' || (text[1]|0x20) > 'z' {
		return text
	}
	word, rest, _ := strings.Cut(text[1:], " ")
	rest = strings.TrimSpace(rest)
	if word = strings.ToLower(word); word == "start" {
		if rest == "" {
			return "help"
		}
		return rest
	}
	sends := strings.ReplaceAll(word, "_", " ")
	for _, c := range r.menu {
		if c.Name == word {
			sends = c.Sends
		}
	}
	return strings.TrimSpace(sends + " " + rest)
}

// other is what a message brings beside words; "" for nothing, and for what
// clients note by themselves (someone joined, a title changed).
func other(m *models.Message) string {
	switch {
	case len(m.Photo) > 0, m.Animation != nil:
		return "picture"
	case m.Sticker != nil, m.Dice != nil:
		return "sticker"
	case m.Voice != nil, m.Audio != nil:
		return "recording"
	case m.Video != nil, m.VideoNote != nil, m.Story != nil:
		return "video"
	case m.Document != nil:
		return "file"
	case m.Location != nil, m.Venue != nil:
		return "map"
	case m.Contact != nil:
		return "contact"
	case m.Poll != nil, m.Checklist != nil:
		return "list"
	}
	return ""
}
