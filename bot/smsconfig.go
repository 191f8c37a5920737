package main

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"os"
	"strings"
	"time"

	"halfweight/bot/sms"
)

const (
	smsSecretEnv = "HALFWEIGHT_SMS_SECRET"
	smsLoginEnv  = "HALFWEIGHT_SMS_CALL_LOGIN"
)

// smsSettings are what serve can be told of text messages.
var smsSettings = []setting{
	{"sms-listen", "HALFWEIGHT_SMS_LISTEN", "", "address the gateway's calls arrive at (127.0.0.1:8789); without it, no text messages"},
	{"sms-path", "HALFWEIGHT_SMS_PATH", "/sms", "path of those calls"},
	{"sms-secret-file", "HALFWEIGHT_SMS_SECRET_FILE", "", "file that holds the secret the gateway shows; or the secret in " + smsSecretEnv},
	{"sms-allow", "HALFWEIGHT_SMS_ALLOW", "", "addresses or networks those calls may come from, with commas; without it, any that show the secret"},
	{"sms-fields", "HALFWEIGHT_SMS_FIELDS", "", "names of the fields that differ, like from=msisdn,text=body; the others are secret, from, to, text, id, time, udh"},
	{"sms-numbers", "HALFWEIGHT_SMS_NUMBERS", "", "numbers that are let in, with commas"},
	{"sms-call", "HALFWEIGHT_SMS_CALL", "", "address that sends a message, with {to} and {text}; without it, the reply is the answer to the gateway's call"},
	{"sms-call-method", "HALFWEIGHT_SMS_CALL_METHOD", "GET", "its method, GET or POST"},
	{"sms-call-header", "HALFWEIGHT_SMS_CALL_HEADER", "", "its headers, like Name: value, with | between them"},
	{"sms-call-body", "HALFWEIGHT_SMS_CALL_BODY", "", "its body, with {to} and {text}; a login for it stands in " + smsLoginEnv + " as name:password"},
	{"sms-call-every", "HALFWEIGHT_SMS_CALL_EVERY", "0s", "not more than one message in so long a time, all numbers together"},
}

// smsConfig is what serve is told of text messages; the zero value is none.
type smsConfig struct {
	listen, path string
	numbers      []string
	options      sms.Options
}

// readSMS reads it. Its secrets come from the environment or a file only.
func readSMS(told values, env func(string) string) (smsConfig, error) {
	c := smsConfig{listen: told["sms-listen"], path: told["sms-path"]}
	if c.listen == "" {
		return smsConfig{}, nil
	}
	if _, _, err := net.SplitHostPort(c.listen); err != nil {
		return c, fmt.Errorf("-sms-listen is a host and a port (127.0.0.1:8789), and got %q", c.listen)
	}
	if !strings.HasPrefix(c.path, "/") {
		return c, fmt.Errorf("-sms-path begins with /, and got %q", c.path)
	}
	secret := env(smsSecretEnv)
	if file := told["sms-secret-file"]; file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return c, fmt.Errorf("read the secret of the sms gateway: %w", err)
		}
		secret = string(text)
	}
	if secret = strings.TrimSpace(secret); secret == "" {
		return c, fmt.Errorf("-sms-listen needs the secret that the gateway shows, in %s or in the file that -sms-secret-file names", smsSecretEnv)
	}
	if len(secret) < sms.LeastSecret {
		return c, fmt.Errorf("the secret of the sms gateway has %d characters: make one of %d or more", len(secret), sms.LeastSecret)
	}
	c.options.Secret = secret
	c.numbers = strings.FieldsFunc(told["sms-numbers"], func(r rune) bool { return r == ',' })
	var err error
	if c.options.Allow, err = readNetworks(told["sms-allow"]); err != nil {
		return c, err
	}
	if c.options.Fields, err = readFields(told["sms-fields"]); err != nil {
		return c, err
	}
	c.options.Push, err = readCall(told, env)
	return c, err
}

// readNetworks reads "127.0.0.1,10.0.0.0/8"; nil for none.
func readNetworks(list string) ([]netip.Prefix, error) {
	var all []netip.Prefix
	for _, s := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' }) {
		p, err := netip.ParsePrefix(s)
		if addr, alone := netip.ParseAddr(s); alone == nil {
			p, err = addr.Prefix(addr.BitLen())
		}
		if err != nil {
			return nil, fmt.Errorf("-sms-allow are addresses or networks with commas, and got %q", s)
		}
		all = append(all, p)
	}
	return all, nil
}

// readFields reads "from=msisdn,text=body" over the names used else. A name left
// empty ("time=") is a thing the gateway does not give.
func readFields(list string) (sms.Fields, error) {
	f := sms.DefaultFields
	of := map[string]*string{"secret": &f.Secret, "from": &f.From, "to": &f.To, "text": &f.Text, "id": &f.ID, "time": &f.Time, "udh": &f.UDH}
	for _, pair := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' }) {
		key, name, ok := strings.Cut(pair, "=")
		field := of[key]
		if !ok || field == nil {
			return f, fmt.Errorf("-sms-fields are pairs like from=msisdn with commas, and got %q", pair)
		}
		*field = name
	}
	if f.From == "" || f.Text == "" {
		return f, errors.New("-sms-fields must name the fields from and text")
	}
	return f, nil
}

// readCall reads how messages are sent; nil where the reply is the answer to the
// gateway's call.
func readCall(told values, env func(string) string) (*sms.Call, error) {
	address := told["sms-call"]
	if address == "" {
		return nil, nil
	}
	c := &sms.Call{URL: address, Method: strings.ToUpper(told["sms-call-method"]), Body: told["sms-call-body"]}
	if err := checkURL("sms-call", strings.NewReplacer("{to}", "1", "{text}", "t", "{id}", "i").Replace(address)); err != nil {
		return nil, errors.New("-sms-call is an address that begins with https:// or http://, and got another") // it may hold a password
	}
	if c.Method != http.MethodGet && c.Method != http.MethodPost {
		return nil, fmt.Errorf("-sms-call-method is GET or POST, and got %q", c.Method)
	}
	if all := address + c.Body; !strings.Contains(all, "{to}") || !strings.Contains(all, "{text}") {
		return nil, errors.New("-sms-call or -sms-call-body must hold {to} and {text}")
	}
	for _, h := range strings.FieldsFunc(told["sms-call-header"], func(r rune) bool { return r == '|' }) {
		name, value, ok := strings.Cut(h, ":")
		if !ok {
			return nil, fmt.Errorf("-sms-call-header are headers like Name: value, and got %q", h)
		}
		c.Headers = append(c.Headers, [2]string{strings.TrimSpace(name), strings.TrimSpace(value)})
	}
	c.User, c.Password, _ = strings.Cut(env(smsLoginEnv), ":")
	var err error
	if c.Every, err = time.ParseDuration(told["sms-call-every"]); err != nil || c.Every < 0 {
		return nil, fmt.Errorf("-sms-call-every is a time like 500ms or 1s, and got %q", told["sms-call-every"])
	}
	return c, nil
}

// secrets are the words of it that must not be seen.
func (c *smsConfig) secrets() []string {
	list := []string{c.options.Secret}
	if c.options.Push != nil {
		list = append(list, c.options.Push.Password)
	}
	return list
}
