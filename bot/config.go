package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"slices"
	"strconv"
	"strings"

	"halfweight/bot/engine"
)

// config is what serve is told.
type config struct {
	token         string // from the environment or a file only: a command line can be seen by others
	data          string
	api           string
	webhook       string
	webhookListen string
	listen        string
	chats         map[string]bool // let in by name, "tg:17"
	invite        string
	perMinute     int
	sms           smsConfig

	// For tests only, no settings: replies go out as fast as they can; what stands
	// between the engine and the file.
	noLimit bool
	before  func(engine.Store) engine.Store
}

// setting is one thing serve can be told: by its flag, else by its environment
// variable, else it is the default.
type setting struct {
	flag, env, fallback, about string
}

const tokenEnv = "HALFWEIGHT_TOKEN"

var (
	dataSetting = setting{"data", "HALFWEIGHT_DATA", "halfweight.db", "file that keeps what the chats told"}

	settings = []setting{
		{"token-file", "HALFWEIGHT_TOKEN_FILE", "", "file that holds the bot's token; or the token in " + tokenEnv},
		dataSetting,
		{"chats", "HALFWEIGHT_CHATS", "", "numbers of the chats that are let in, with commas"},
		{"invite", "HALFWEIGHT_INVITE", "", "word that lets in the chat it is sent from; without this and -chats, all are let in"},
		{"per-minute", "HALFWEIGHT_PER_MINUTE", "30", "messages taken of one chat in a minute; 0: any number"},
		{"listen", "HALFWEIGHT_LISTEN", "127.0.0.1:8787", "address for /health and /counters"},
		{"webhook", "HALFWEIGHT_WEBHOOK", "", "public https address that telegram is to call; without it, telegram is asked"},
		{"webhook-listen", "HALFWEIGHT_WEBHOOK_LISTEN", "127.0.0.1:8788", "address the webhook's calls arrive at"},
		{"api", "HALFWEIGHT_API", "https://api.telegram.org", "address of the Bot API"},
	}
)

// values are the settings as told.
type values map[string]string

// tell reads flags and environment. What is left are the other arguments.
func tell(command string, settings []setting, args []string, env func(string) string) (values, []string, error) {
	flags := flag.NewFlagSet(command, flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	for _, s := range settings {
		value := s.fallback
		if told := env(s.env); told != "" {
			value = told
		}
		flags.String(s.flag, value, "")
	}
	if err := flags.Parse(args); err != nil {
		return nil, nil, err
	}
	told := values{}
	flags.VisitAll(func(f *flag.Flag) { told[f.Name] = f.Value.String() })
	return told, flags.Args(), nil
}

// readConfig is what serve is told by flags and environment.
func readConfig(args []string, env func(string) string) (config, error) {
	told, rest, err := tell("serve", slices.Concat(settings, smsSettings), args, env)
	if err != nil {
		return config{}, err
	}
	if len(rest) > 0 {
		return config{}, fmt.Errorf("serve takes no arguments and got %q", rest)
	}
	c := config{
		data: told["data"], api: told["api"], listen: told["listen"], invite: strings.TrimSpace(told["invite"]),
		webhook: told["webhook"], webhookListen: told["webhook-listen"],
	}
	if c.sms, err = readSMS(told, env); err != nil {
		return config{}, err
	}
	if c.token, err = readToken(told["token-file"], env); err != nil {
		return config{}, err
	}
	if c.token == "" && c.sms.listen == "" {
		return config{}, fmt.Errorf("serve needs the bot's token, in %s or in the file that -token-file names, or -sms-listen", tokenEnv)
	}
	if c.perMinute, err = strconv.Atoi(told["per-minute"]); err != nil || c.perMinute < 0 {
		return config{}, fmt.Errorf("-per-minute is a number from 0 up, and got %q", told["per-minute"])
	}
	if c.chats, err = readChats(told["chats"]); err != nil {
		return config{}, err
	}
	if err := checkURL("webhook", c.webhook); c.webhook != "" && err != nil {
		return config{}, err
	}
	if err := checkURL("api", c.api); err != nil {
		return config{}, err
	}
	for _, name := range []string{"listen", "webhook-listen"} {
		if _, _, err := net.SplitHostPort(told[name]); err != nil {
			return config{}, fmt.Errorf("-%s is a host and a port (127.0.0.1:8787), and got %q", name, told[name])
		}
	}
	return c, nil
}

// readToken reads the token from the file or the environment; "" for none. No
// error shows it.
func readToken(file string, env func(string) string) (string, error) {
	token := env(tokenEnv)
	if file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("read the token: %w", err)
		}
		token = string(text)
	}
	token = strings.TrimSpace(token)
	switch number, key, ok := strings.Cut(token, ":"); {
	case token == "":
		return "", nil // no telegram
	case !ok || key == "" || strings.Trim(number, "0123456789") != "" || strings.ContainsAny(key, " \t\r\n/?#%"):
		return "", errors.New("the token is not one that BotFather gives: a number, a colon, a key")
	}
	return token, nil
}

// readChats reads the numbers of chats; nil for none.
func readChats(list string) (map[string]bool, error) {
	var chats map[string]bool
	for _, number := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' }) {
		if _, err := strconv.ParseInt(number, 10, 64); err != nil {
			return nil, fmt.Errorf("-chats are numbers with commas, and got %q", number)
		}
		if chats == nil {
			chats = map[string]bool{}
		}
		chats["tg:"+number] = true
	}
	return chats, nil
}

func checkURL(name, address string) error {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" {
		return fmt.Errorf("-%s is an address that begins with https://, and got %q", name, address)
	}
	return nil
}
