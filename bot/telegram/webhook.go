package telegram

import (
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"io"
	"log/slog"
	"net/http"

	"github.com/go-telegram/bot"
)

// maxUpdate is the longest body of a call that is read; a message has 4,096
// characters at most.
const maxUpdate = 1 << 20

// secretOf is what Telegram shows with every call: nobody else can make it
// without the token, and it is the same after a restart.
func secretOf(token string) string {
	mac := hmac.New(sha256.New, []byte(token))
	mac.Write([]byte("webhook"))
	return hex.EncodeToString(mac.Sum(nil))
}

// ServeHTTP takes one update from Telegram. It answers 200 when the update is
// stored or there is nothing in it for the bot, 503 when it must be brought again,
// and 401 to anyone who does not know the secret.
func (t *Transport) ServeHTTP(w http.ResponseWriter, req *http.Request) {
	shown := req.Header.Get("X-Telegram-Bot-Api-Secret-Token")
	if subtle.ConstantTimeCompare([]byte(shown), []byte(t.secret)) != 1 {
		t.opts.Count("forged")
		w.WriteHeader(http.StatusUnauthorized)
		return
	}
	if req.Method != http.MethodPost {
		w.WriteHeader(http.StatusMethodNotAllowed)
		return
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, req.Body, maxUpdate))
	var long *http.MaxBytesError
	switch {
	case errors.As(err, &long):
		w.WriteHeader(http.StatusRequestEntityTooLarge)
		return
	case err != nil:
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	u, ok := decode(body)
	if !ok {
		t.opts.Count("odd")
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	t.running.RLock()
	defer t.running.RUnlock()
	s := t.session
	if s == nil {
		w.WriteHeader(http.StatusServiceUnavailable)
		return
	}
	e := t.read(s, u)
	line := &s.chats[lineOf(e.in.Chat)]
	line.Lock()
	defer line.Unlock()
	if err := t.store(req.Context(), s, e); err != nil {
		t.opts.Count("not_stored")
		slog.Error("an event was not stored and is left to be brought again", "event", e.in.ID, "err", t.redact(err))
		w.WriteHeader(http.StatusServiceUnavailable)
	}
}

// lineOf is which of a session's locks is the chat's.
func lineOf(chat string) int {
	sum := sha256.Sum256([]byte(chat))
	return int(sum[0]) % len(session{}.chats)
}

func (t *Transport) setWebhook(ctx context.Context) error {
	_, err := t.bot.SetWebhook(ctx, &bot.SetWebhookParams{
		URL: t.opts.Webhook, SecretToken: t.secret, AllowedUpdates: kinds,
	})
	return err
}

func (t *Transport) deleteWebhook(ctx context.Context) error {
	_, err := t.bot.DeleteWebhook(ctx, &bot.DeleteWebhookParams{})
	return err
}
