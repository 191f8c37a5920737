// Package telegram carries messages to and from Telegram chats. It asks Telegram
// for what came in (polling), or is called by it (webhook); either way nothing is
// acknowledged before it is stored.
//
// The client library moves on in Telegram's queue as soon as it has put updates
// into a channel of its own, and what it has moved past is gone for ever. So its
// request for updates goes through poller, which hands the updates on itself and
// holds the next request back until all of them are stored.
//
// The name of a chat is "tg:" and Telegram's number of it.
package telegram

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/go-telegram/bot"

	"halfweight/bot/wire"
)

// Options say which bot this is and how it hears.
type Options struct {
	Token   string
	Server  string            // address of the Bot API; "" for Telegram's own
	Webhook string            // public address that ends at ServeHTTP; "" polls
	Menu    []Command         // what the client lists under its menu button
	Count   func(name string) // counts what happened; nil does not
	NoLimit bool              // sends as fast as it can, against a server that is not Telegram's
}

// Command is one line of the client's command menu: "/new_load" sends the message
// "new load".
type Command struct {
	Name  string // a-z, 0-9 and _; at most 32
	Sends string // the message it stands for
	About string // at most 256 characters
}

// Transport is one bot of Telegram's. Make one with New.
type Transport struct {
	bot     *bot.Bot
	opts    Options
	secret  string
	poller  *poller
	running sync.RWMutex // read-locked by each call that brings something in
	session *session     // nil while not running
	heard   atomic.Int64 // when Telegram last answered a request for updates, in Unix seconds
	presses sync.WaitGroup
}

// session is one Run.
type session struct {
	reader  reader
	deliver func(context.Context, wire.In) ([]wire.Body, error)
	chats   [64]sync.Mutex // a chat's events wait for each other
	hands   *hands
}

// How long a call may take. Telegram holds a request for updates open for
// pollTime while there are none.
const (
	pollTime  = 50 * time.Second
	pollSlack = 15 * time.Second
	callTime  = 10 * time.Second
)

// drainTime is how long what came in may take to be stored after the end of Run
// was asked for.
const drainTime = 10 * time.Second

// New is a bot; it calls nobody before Run.
func New(opts Options) (*Transport, error) {
	if opts.Count == nil {
		opts.Count = func(string) {}
	}
	t := &Transport{opts: opts, secret: secretOf(opts.Token)}
	dial := http.DefaultTransport.(*http.Transport).Clone()
	dial.MaxIdleConnsPerHost = 64 // many chats are written to at once
	t.poller = &poller{client: &http.Client{Transport: dial}, take: t.takeAll, heard: func() { t.heard.Store(time.Now().Unix()) }}
	options := []bot.Option{
		bot.WithSkipGetMe(),
		bot.WithHTTPClient(pollTime+time.Second, t.poller), // it asks for a second less
		bot.WithAllowedUpdates(kinds),
		bot.WithDefaultHandler(ignore),
		bot.WithNotAsyncHandlers(),
		bot.WithErrorsHandler(t.failed),
	}
	if opts.Server != "" {
		options = append(options, bot.WithServerURL(strings.TrimRight(opts.Server, "/")))
	}
	b, err := bot.New(opts.Token, options...)
	if err != nil {
		return nil, t.redact(err)
	}
	t.bot = b
	return t, nil
}

// Name is what the names of its chats begin with.
func (t *Transport) Name() string { return "tg" }

// Caps is what Telegram takes: 4,096 UTF-16 units a message; of messages, by its
// Bots FAQ ("My bot is hitting limits"), about one a second to a chat and 30 a
// second in all. Groups take 20 a minute: there Telegram itself says when to wait.
func (t *Transport) Caps() wire.Caps {
	c := wire.Caps{Length: 4096, Buttons: true, Files: true}
	if !t.opts.NoLimit {
		c.All = wire.Limit{Every: time.Second / 30, Burst: 30}
		c.Chat = wire.Limit{Every: time.Second, Burst: 5}
	}
	return c
}

// Run hands on what comes in until the context ends, and then until what came in
// before is stored, for drainTime at most. An error is one that trying again does
// not mend: a token that Telegram does not know.
func (t *Transport) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	s := &session{deliver: deliver, hands: newHands()}
	defer close(s.hands.letGo)
	if err := t.patiently(ctx, "getMe", func(ctx context.Context) error {
		me, err := t.bot.GetMe(ctx)
		if err == nil {
			s.reader = reader{id: me.ID, name: me.Username, menu: t.opts.Menu}
		}
		return err
	}); err != nil || ctx.Err() != nil {
		return err
	}
	slog.Info("telegram knows the bot", "name", s.reader.name)
	t.heard.Store(time.Now().Unix())
	t.begin(s)
	defer t.presses.Wait()
	defer t.begin(nil)

	if err := t.patiently(ctx, "setMyCommands", t.setMenu); err != nil {
		return err
	}
	if t.opts.Webhook != "" {
		if err := t.patiently(ctx, "setWebhook", t.setWebhook); err != nil {
			return err
		}
		<-ctx.Done()
		return nil
	}
	if err := t.patiently(ctx, "deleteWebhook", t.deleteWebhook); err != nil {
		return err
	}
	t.bot.Start(ctx)
	t.poller.held.Wait()
	return nil
}

// begin lets calls bring in what came for a session, or none; it waits for those
// that are at it.
func (t *Transport) begin(s *session) {
	t.running.Lock()
	defer t.running.Unlock()
	t.session = s
}

// Health is nil while messages come in: when polling, Telegram has answered
// lately.
func (t *Transport) Health() error {
	const silence = 3 * (pollTime + pollSlack)
	t.running.RLock()
	defer t.running.RUnlock()
	switch heard := time.Unix(t.heard.Load(), 0); {
	case t.session == nil:
		return errors.New("telegram was not reached yet")
	case t.opts.Webhook == "" && time.Since(heard) > silence:
		return fmt.Errorf("telegram has not answered since %v", heard.UTC().Format(time.RFC3339))
	}
	return nil
}

// patiently makes a call until it succeeds or the context ends, for which the
// error is nil too. A token that is not known is the one thing not tried again.
func (t *Transport) patiently(ctx context.Context, what string, call func(context.Context) error) error {
	const most = time.Minute
	for wait := time.Second; ctx.Err() == nil; wait = min(2*wait, most) {
		limited, cancel := context.WithTimeout(ctx, callTime)
		err := call(limited)
		cancel()
		switch {
		case err == nil:
			return nil
		case errors.Is(err, bot.ErrorUnauthorized), errors.Is(err, bot.ErrorNotFound):
			return errors.New("telegram does not know this token: look it up at BotFather")
		case ctx.Err() != nil:
			return nil
		}
		slog.Warn("a call to telegram failed and is made again", "call", what, "err", t.redact(err))
		var asked wire.ErrRetry
		if errors.As(t.classify(err), &asked) {
			wait = max(wait, asked.After)
		}
		sleep(ctx, wait)
	}
	return nil
}

// sleep waits, or until the context ends.
func sleep(ctx context.Context, d time.Duration) {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
	case <-timer.C:
	}
}

// failed notes an error of the library's own loop, which tries again by itself.
func (t *Transport) failed(err error) {
	switch {
	case errors.Is(err, context.Canceled) || strings.Contains(err.Error(), "some updates lost"):
		return // the end was asked for; what is not confirmed comes again
	case errors.Is(err, bot.ErrorConflict):
		t.opts.Count("two_pollers")
		slog.Error("another program asks telegram for this bot's messages: stop one of the two", "err", t.redact(err))
	default:
		t.opts.Count("poll_failures")
		slog.Warn("asking telegram for messages failed", "err", t.redact(err))
	}
}

// redact is an error without the token.
func (t *Transport) redact(err error) error {
	text := strings.ReplaceAll(err.Error(), t.opts.Token, "***")
	if _, key, ok := strings.Cut(t.opts.Token, ":"); ok && key != "" {
		text = strings.ReplaceAll(text, key, "***")
	}
	return errors.New(text)
}

const prefix = "tg:"

func chatName(id int64) string { return prefix + strconv.FormatInt(id, 10) }

func chatID(name string) (int64, bool) {
	number, ok := strings.CutPrefix(name, prefix)
	id, err := strconv.ParseInt(number, 10, 64)
	return id, ok && err == nil
}
