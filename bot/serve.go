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
	"strings"
	"syscall"
	"time"

	"halfweight/bot/engine"
	"halfweight/bot/telegram"
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
	hidden := hiding{ui.err, secrets(c.token)}
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
	store, err := sessions.Open(c.data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()

	counters := new(expvar.Map).Init()
	count := func(name string) { counters.Add(name, 1) }
	tg, err := telegram.New(telegram.Options{Token: c.token, Server: c.api, Webhook: c.webhook, Menu: menu, Count: count, NoLimit: c.noLimit})
	if err != nil {
		return err
	}
	guarded := &door{
		Transport: tg, chats: c.chats, invite: c.invite,
		rate: rate{perMinute: c.perMinute}, look: store.Look, count: count,
	}

	var doors listeners
	defer func() { doors.close() }()
	if err := doors.open("tcp", c.listen, operator(store, tg, counters)); err != nil {
		return err
	}
	if c.webhook != "" {
		mux := http.NewServeMux()
		mux.Handle(pathOf(c.webhook), tg)
		if err := doors.open("tcp", c.webhookListen, mux); err != nil {
			return err
		}
	}
	socket := socketOf(c.data)
	if err := os.Remove(socket); err != nil && !errors.Is(err, os.ErrNotExist) { // of a run that was killed: the file is ours now
		return err
	}
	if err := doors.open("unix", socket, copier(store)); err != nil {
		slog.Warn("bot backup will not reach this run", "err", err)
	} else if err := os.Chmod(socket, 0o600); err != nil {
		return err
	}

	slog.Info("serving", "data", c.data, "listen", c.listen)
	err = engine.New(store, guarded).Run(ctx)
	slog.Info("stopped")
	return err
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

func (l *listeners) open(network, address string, h http.Handler) error {
	at, err := net.Listen(network, address)
	if err != nil {
		return err
	}
	s := &http.Server{Handler: h, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute}
	*l = append(*l, s)
	go func() {
		if err := s.Serve(at); !errors.Is(err, http.ErrServerClosed) {
			slog.Error("no calls are taken any more", "at", address, "err", err)
		}
	}()
	return nil
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
func operator(store *sessions.DB, tg *telegram.Transport, counters *expvar.Map) http.Handler {
	waiting := func(ctx context.Context) (int, error) {
		chats, err := store.Waiting(ctx)
		return len(chats), err
	}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /health", func(w http.ResponseWriter, req *http.Request) {
		_, err := waiting(req.Context())
		if err := errors.Join(err, tg.Health()); err != nil {
			http.Error(w, err.Error(), http.StatusServiceUnavailable)
			return
		}
		fmt.Fprintln(w, "well")
	})
	mux.HandleFunc("GET /counters", func(w http.ResponseWriter, req *http.Request) {
		n, err := waiting(req.Context())
		if err != nil {
			http.Error(w, err.Error(), http.StatusServiceUnavailable)
			return
		}
		gauge := new(expvar.Int)
		gauge.Set(int64(n))
		counters.Set("chats_with_replies_to_send", gauge)
		w.Header().Set("Content-Type", "application/json")
		fmt.Fprintln(w, counters)
	})
	return mux
}

// secrets are the parts of a token that must not be seen.
func secrets(token string) [][]byte {
	_, key, _ := strings.Cut(token, ":")
	return [][]byte{[]byte(token), []byte(key)}
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
	for _, s := range settings {
		fmt.Fprintf(&b, "\n  -%s, %s\n      %s", s.flag, s.env, s.about)
		if s.fallback != "" {
			fmt.Fprintf(&b, " (%s)", s.fallback)
		}
	}
	return b.String()
}
