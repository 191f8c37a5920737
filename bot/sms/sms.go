package sms

import (
	"context"
	"crypto/aes"
	"crypto/cipher"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"net/netip"
	"strings"
	"sync"
	"time"

	"halfweight/bot/wire"
)

// Options are what a transport is told.
type Options struct {
	Secret string         // what a gateway shows with each call; numbers are kept hashed and sealed by it
	Allow  []netip.Prefix // addresses that calls may come from; none: any
	Fields Fields
	Push   *Call // how replies and what the bot starts by itself are sent; nil: replies are the answers to the calls
	Count  func(name string)
}

// Fields are the names under which a gateway gives what it brings. "" is a thing
// it does not give.
type Fields struct {
	Secret, From, To, Text, ID, Time string
	UDH                              string // the user data header, its bytes or in hexadecimal: which part of a split message it is
}

// DefaultFields are those of the worked configuration in the README.
var DefaultFields = Fields{Secret: "secret", From: "from", To: "to", Text: "text", ID: "id", Time: "time", UDH: "udh"}

// Transport carries text messages. Make one with New.
type Transport struct {
	opts Options
	key  [sha256.Size]byte
	seal cipher.AEAD
	now  func() time.Time

	recent recent

	mu      sync.RWMutex
	deliver func(context.Context, wire.In) ([]wire.Body, error) // nil while Run does not run
	lines   [256]sync.Mutex                                     // a chat's messages wait for each other
}

// New is a transport. The secret must be told, whatever addresses are allowed.
func New(opts Options) (*Transport, error) {
	if len(opts.Secret) < LeastSecret {
		return nil, fmt.Errorf("the secret of the sms gateway is shorter than %d characters: make a longer one", LeastSecret)
	}
	if opts.Count == nil {
		opts.Count = func(string) {}
	}
	t := &Transport{opts: opts, now: time.Now}
	t.key = sha256.Sum256([]byte("numbers " + opts.Secret))
	block, err := aes.NewCipher(t.key[:])
	if err != nil {
		return nil, err
	}
	t.seal, err = cipher.NewGCM(block)
	return t, err
}

// LeastSecret is how many characters a secret has at the least.
const LeastSecret = 16

// Name is what the names of its chats begin with.
func (t *Transport) Name() string { return "sms" }

// Caps is what a reply may be: two segments; carried by the answer to the call
// unless they are pushed.
func (t *Transport) Caps() wire.Caps {
	c := wire.Caps{Fits: Fits, Inline: t.opts.Push == nil}
	if t.opts.Push != nil {
		c.All = wire.Limit{Every: t.opts.Push.Every, Burst: 1}
	}
	return c
}

// Run takes calls until the context ends, and then waits for those at work.
func (t *Transport) Run(ctx context.Context, deliver func(context.Context, wire.In) ([]wire.Body, error)) error {
	t.mu.Lock()
	t.deliver = deliver
	t.mu.Unlock()
	<-ctx.Done()
	t.mu.Lock() // those at work hold it for reading
	t.deliver = nil
	t.mu.Unlock()
	return nil
}

// Health is nil while calls are taken.
func (t *Transport) Health() error {
	t.mu.RLock()
	defer t.mu.RUnlock()
	if t.deliver == nil {
		return errors.New("text messages are not taken yet")
	}
	return nil
}

// ChatOf is the name of the chat with a number: a hash of it that nobody can
// make, or turn back, without the secret.
func (t *Transport) ChatOf(number string) string {
	mac := hmac.New(sha256.New, t.key[:])
	mac.Write([]byte(plainNumber(number)))
	return t.Name() + ":" + hex.EncodeToString(mac.Sum(nil)[:16])
}

// plainNumber is a number without the signs that people and gateways put into it;
// "00" at its beginning is "+".
func plainNumber(number string) string {
	number = strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -().\u00a0", r) {
			return -1
		}
		return r
	}, number)
	if rest, ok := strings.CutPrefix(number, "00"); ok {
		number = "+" + rest
	}
	return strings.TrimPrefix(number, "+")
}

// sealed is a number as it waits beside a reply to it.
func (t *Transport) sealed(number string) string {
	nonce := make([]byte, t.seal.NonceSize())
	rand.Read(nonce) // never fails
	return base64.RawURLEncoding.EncodeToString(t.seal.Seal(nonce, nonce, []byte(number), nil))
}

// opened is the number that sealed sealed.
func (t *Transport) opened(text string) (string, error) {
	b, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil || len(b) < t.seal.NonceSize() {
		return "", errNumber
	}
	n := t.seal.NonceSize()
	number, err := t.seal.Open(nil, b[:n], b[n:], nil)
	if err != nil {
		return "", errNumber
	}
	return string(number), nil
}

var errNumber = errors.New("the number of a reply cannot be opened: was the secret changed?")
