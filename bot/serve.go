package main

import (
	"bytes"
	"context"
	"errors"
	"expvar"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"halfweight/bot/engine"
	"halfweight/bot/sms"
	"halfweight/bot/telegram"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// menu is what Telegram lists under its menu button.
var menu = []telegram.Command{
	{Name: "help", Sends: "help", About: "What you can text"},
	{Name: "new_load", Sends: "new load", About: "Begin a new load"},
	{Name: "need", Sends: "what do I need", About: "What the load still needs"},
	{Name: "why", Sends: "why", About: "Why the count is what it is"},
	{Name: "undo", Sends: "undo", About: "Take back the last change"},
	{Name: "check", Sends: "when do I check next", About: "When to look at the tie-downs next"},
	{Name: "gear", Sends: "gear", About: "Your chains, straps and binders"},
	{Name: "history", Sends: "history", About: "What was told and hauled before"},
	{Name: "export", Sends: "export", About: "All that is kept of this chat, as a file"},
	{Name: "forget_me", Sends: "forget me", About: "Delete what this chat told"},
}

// exitFailed is the exit code of serve and backup where they could not do it.
const exitFailed = 1

// lastCalls is how long calls that are being answered may take after the end was
// asked for.
const lastCalls = 15 * time.Second

// garbage is how much may gather before it is cleared away, in percent of what is
// in use, unless the environment's GOGC says otherwise: little is in use, and at
// Go's own 100 the clearing takes a seventh of the time.
const garbage = 300

// serve runs the bot until it is told to stop (SIGTERM, an interrupt); told so
// again it stops at once.
func serve(ui screen, args []string, env func(string) string) int {
	c, err := readConfig(args, env)
	switch {
	case errors.Is(err, flag.ErrHelp):
		ui.print(serveUsage())
		return exitFine
	case err != nil:
		return ui.mistake(err.Error(), "to see what can be set: go run ./bot serve --help")
	}
	hidden := hiding{ui.err, secrets(c.token, c.sms.secrets()...)}
	was := slog.Default()
	defer slog.SetDefault(was)
	slog.SetDefault(slog.New(slog.NewTextHandler(hidden, nil)))

	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM, os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop)
	if err := c.run(ctx); err != nil {
		fmt.Fprintln(hidden, shown(err.Error()))
		return exitFailed
	}
	return exitFine
}

// run serves until the context ends.
func (c *config) run(ctx context.Context) (err error) {
	if os.Getenv("GOGC") == "" {
		defer debug.SetGCPercent(debug.SetGCPercent(garbage))
	}
	store, err := sessions.Open(c.data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()

	counters := new(expvar.Map).Init()
	count := func(name string) { counters.Add(name, 1) }
	ways, err := c.transports(count)
	if err != nil {
		return err
	}
	var guarded []wire.Transport
	for _, w := range ways {
		guarded = append(guarded, &door{
			Transport: w, chats: w.chats, invite: c.invite,
			rate: rate{perMinute: c.perMinute}, look: store.Look, count: count,
		})
	}

	var doors listeners
	defer func() { doors.close() }()
	where, err := c.open(&doors, store, ways, counters)
	if err != nil {
		return err
	}
	slog.Info("serving", where...)
	var kept engine.Store = store
	if c.before != nil {
		kept = c.before(store)
	}
	err = engine.New(kept, guarded...).Run(ctx)
	slog.Info("stopped")
	return err
}

// open opens what others call: the operator's address, each transport's, and the
// socket that backup asks. where tells the log which addresses they are.
func (c *config) open(doors *listeners, store *sessions.DB, ways []way, counters *expvar.Map) (where []any, err error) {
	at, err := doors.open("tcp", c.listen, operator(store, ways, counters))
	if err != nil {
		return nil, err
	}
	where = []any{"data", c.data, "listen", at}
	for _, w := range ways {
		if w.listen == "" {
			where = append(where, w.setting, "")
			continue
		}
		mux := http.NewServeMux()
		mux.Handle(w.path, w)
		at, err := doors.open("tcp", w.listen, mux)
		if err != nil {
			return nil, err
		}
		where = append(where, w.setting, at)
	}
	socket := socketOf(c.data)
	if err := os.Remove(socket); err != nil && !errors.Is(err, os.ErrNotExist) { // of a run that was killed: the file is ours now
		return nil, err
	}
	if _, err := doors.open("unix", socket, copier(store)); err != nil {
		slog.Warn("bot backup will not reach this run", "err", err)
	} else if err := os.Chmod(socket, 0o600); err != nil {
		return nil, err
	}
	return where, nil
}

// way is a transport with who is let in by it, and where it is called.
type way struct {
	called
	chats        map[string]bool
	listen, path string // "" for one that is not called
	setting      string // that told where
}

// called is a transport that takes calls and tells whether it is well.
type called interface {
	wire.Transport
	http.Handler
	Health() error
}

// transports are those that serve was told of.
func (c *config) transports(count func(string)) ([]way, error) {
	var ways []way
	if c.token != "" {
		tg, err := telegram.New(telegram.Options{Token: c.token, Server: c.api, Webhook: c.webhook, Menu: menu, Count: count, NoLimit: c.noLimit})
		if err != nil {
			return nil, err
		}
		w := way{called: tg, chats: c.chats, setting: "webhook-listen"}
		if c.webhook != "" {
			w.listen, w.path = c.webhookListen, pathOf(c.webhook)
		}
		ways = append(ways, w)
	}
	if c.sms.listen != "" {
		options := c.sms.options
		options.Count = count
		text, err := sms.New(options)
		if err != nil {
			return nil, err
		}
		w := way{called: text, listen: c.sms.listen, path: c.sms.path, setting: "sms-listen"}
		for _, number := range c.sms.numbers {
			if w.chats == nil {
				w.chats = map[string]bool{}
			}
			w.chats[text.ChatOf(number)] = true
		}
		ways = append(ways, w)
	}
	return ways, nil
}

// pathOf is the path of an address, on which its calls arrive.
func pathOf(address string) string {
	u, err := url.Parse(address)
	if err != nil || u.Path == "" {
		return "/"
	}
	return u.Path
}

// listeners are the servers of one run.
type listeners []*http.Server

// open serves at an address, and says at which where the port told is 0.
func (l *listeners) open(network, address string, h http.Handler) (string, error) {
	at, err := net.Listen(network, address)
	if err != nil {
		return "", err
	}
	s := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute}
	*l = append(*l, s)
	go func() {
		if err := s.Serve(at); !errors.Is(err, http.ErrServerClosed) {
			slog.Error("no calls are taken any more", "at", address, "err", err)
		}
	}()
	return at.Addr().String(), nil
}

// close lets the calls that are at it end.
func (l listeners) close() {
	ctx, cancel := context.WithTimeout(context.Background(), lastCalls)
	defer cancel()
	for _, s := range l {
		if err := s.Shutdown(ctx); err != nil {
			slog.Warn("a call was cut off", "err", err)
			s.Close()
		}
	}
}

// operator answers who looks after the bot: is it well, and what has it done.
func operator(store *sessions.DB, ways []way, counters *expvar.Map) http.Handler {
	waiting := func(ctx context.Context) (int, error) {
		chats, err := store.Waiting(ctx)
		return len(chats), err
	}
	gauge := func(name string, n int) {
		v := new(expvar.Int)
		v.Set(int64(n))
		counters.Set(name, v)
	}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /health", func(w http.ResponseWriter, req *http.Request) {
		_, err := waiting(req.Context())
		for _, w := range ways {
			err = errors.Join(err, w.Health())
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusServiceUnavailable)
			return
		}
		fmt.Fprintln(w, "well")
	})
	mux.HandleFunc("GET /counters", func(w http.ResponseWriter, req *http.Request) {
		n, err := waiting(req.Context())
		aside, asideErr := store.Aside(req.Context())
		if err := errors.Join(err, asideErr); err != nil {
			http.Error(w, err.Error(), http.StatusServiceUnavailable)
			return
		}
		gauge("chats_with_replies_to_send", n)
		gauge("states_put_aside", len(aside))
		w.Header().Set("Content-Type", "application/json")
		fmt.Fprintln(w, counters)
	})
	return mux
}

// secrets are the parts of a token, and other words, that must not be seen.
func secrets(token string, others ...string) [][]byte {
	_, key, _ := strings.Cut(token, ":")
	var all [][]byte
	for _, s := range append([]string{token, key}, others...) {
		if s != "" {
			all = append(all, []byte(s))
		}
	}
	return all
}

// hiding writes without the secrets, a record at a time.
type hiding struct {
	to      io.Writer
	secrets [][]byte
}

func (h hiding) Write(record []byte) (int, error) {
	clean := record
	for _, s := range h.secrets {
		clean = bytes.ReplaceAll(clean, s, []byte("***"))
	}
	if _, err := h.to.Write(clean); err != nil {
		return 0, err
	}
	return len(record), nil
}

// serveUsage lists the settings.
func serveUsage() string {
	var b strings.Builder
	b.WriteString("Serves chats until it is stopped.\n\n    " + tokenEnv + "=... go run ./bot serve\n\nEach setting is a flag, or else an environment variable:\n")
	for _, s := range slices.Concat(settings, smsSettings) {
		fmt.Fprintf(&b, "\n  -%s, %s\n      %s", s.flag, s.env, s.about)
		if s.fallback != "" {
			fmt.Fprintf(&b, " (%s)", s.fallback)
		}
	}
	return b.String()
}
