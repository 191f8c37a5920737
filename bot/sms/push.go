package sms

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"halfweight/bot/wire"
)

// Call is how a gateway is asked to send a message. {to} and {text} in URL and
// Body stand for the number and the text, {id} for a mark that is the same when
// the same reply is sent again; in the URL they are escaped, in a body that is a
// form or JSON as those want it.
type Call struct {
	URL      string
	Method   string      // "GET" or "POST"
	Headers  [][2]string // name and value
	Body     string      // "" for none
	User     string      // basic authentication, with Password; "" for none
	Password string
	Every    time.Duration // one message in so long a time, all numbers together; 0: no limit
	Client   *http.Client
}

// callTime is how long a call to the gateway may take.
const callTime = 15 * time.Second

// Send asks the gateway to send one reply.
func (t *Transport) Send(ctx context.Context, chat string, b wire.Body) (string, error) {
	c := t.opts.Push
	if c == nil {
		return "", fmt.Errorf("%w: no call to the gateway is told", wire.ErrRefused)
	}
	number, err := t.opened(b.To)
	if err != nil {
		return "", errors.Join(wire.ErrRefused, err)
	}
	id := hash(chat + "\x00" + b.Event)
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	req, err := c.request(ctx, number, Plain(b.Text), id)
	if err != nil {
		return "", errors.Join(wire.ErrRefused, err)
	}
	client := c.Client
	if client == nil {
		client = http.DefaultClient
	}
	res, err := client.Do(req)
	if err != nil {
		return "", hide(err, number)
	}
	defer res.Body.Close()
	answer, _ := io.ReadAll(io.LimitReader(res.Body, 1<<10))
	return id, accepted(res, string(answer))
}

// accepted is nil where the gateway took the message.
func accepted(res *http.Response, answer string) error {
	switch code := res.StatusCode; {
	case code < 300:
		return nil
	case code == http.StatusTooManyRequests || code == http.StatusServiceUnavailable:
		if after, err := strconv.Atoi(res.Header.Get("Retry-After")); err == nil && after >= 0 {
			return wire.ErrRetry{After: time.Duration(after) * time.Second}
		}
		return fmt.Errorf("the gateway answers %s", res.Status)
	case code == http.StatusUnauthorized || code == http.StatusForbidden || code == http.StatusRequestTimeout || code >= 500:
		return fmt.Errorf("the gateway answers %s", res.Status) // it may be mended meanwhile
	default:
		return fmt.Errorf("%w: the gateway answers %s", wire.ErrRefused, res.Status)
	}
}

// request is the call for one message.
func (c *Call) request(ctx context.Context, number, text, id string) (*http.Request, error) {
	put := func(template string, escape func(string) string) string {
		return strings.NewReplacer("{to}", escape(number), "{text}", escape(text), "{id}", escape(id)).Replace(template)
	}
	as := url.QueryEscape
	for _, h := range c.Headers {
		if strings.EqualFold(h[0], "Content-Type") && strings.Contains(h[1], "json") {
			as = inJSON
		}
	}
	req, err := http.NewRequestWithContext(ctx, c.Method, put(c.URL, url.QueryEscape), strings.NewReader(put(c.Body, as)))
	if err != nil {
		return nil, errors.New("the address of the gateway's call is not one")
	}
	if c.Body != "" {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	for _, h := range c.Headers {
		req.Header.Set(h[0], h[1])
	}
	if c.User != "" {
		req.SetBasicAuth(c.User, c.Password)
	}
	return req, nil
}

// inJSON is a text as it stands between the quotes of a JSON string.
func inJSON(s string) string {
	b, _ := json.Marshal(s) // a string always can be
	return string(b[1 : len(b)-1])
}

// hide is an error without the number and the address that holds it.
func hide(err error, number string) error {
	var u *url.Error
	if errors.As(err, &u) {
		err = u.Err
	}
	return errors.New(strings.ReplaceAll(err.Error(), number, "***"))
}
