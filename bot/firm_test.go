package main

import (
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	api "halfweight/bot/telegram/apitest"
	"halfweight/sessions"
)

// Two of a crew share one load in their group; a third one, outside, learns
// nothing of it and changes nothing, whatever is sent and wherever.
func TestServe_strangerToAGroupSeesNothingOfIts(t *testing.T) {
	s := serving(t, nil)
	crew, id := api.Group(5), int64(-5)
	inGroup := func(user int, text string) api.Sent {
		t.Helper()
		n := len(s.In(id)) + 1
		s.Update("message", s.Message(crew, "@"+api.Name+" "+text, api.M{"from": api.M{"id": user, "is_bot": false, "first_name": "A"}}))
		return s.replies(id, n)[n-1]
	}
	inGroup(7, "machine 12 is a 23,456 lb roller, articulated")
	inGroup(8, "gear 6x 1/2 g43 with 7777 binders")
	asked := inGroup(7, "machine 12, 4x 3/8 g70 direct")
	want(t, asked, "23,456", "CAN'T CALL IT YET")
	want(t, inGroup(8, "front left is loose"), "SHORT")
	before := inGroup(7, "what do I need").Text

	ofTheirs := regexp.MustCompile(`23,456|11,728|7,777|1/2 g43|machine 12 is|front left`)
	third := []api.Chat{api.Private(9), api.Group(6)} // by himself, and in a group of his own
	for _, chat := range third {
		at := chat.ID
		for _, text := range []string{"gear", "why", "what do I need", "history", "export", "undo", "front left tight again", "make the last two over", "machine 12, 4x 3/8 g70 direct", "delivered", "forget me"} {
			n := len(s.In(at)) + 1
			s.Update("message", s.Message(chat, "@"+api.Name+" "+text, api.M{
				"from":             api.M{"id": 9, "is_bot": false, "first_name": "C"},
				"reply_to_message": api.M{"message_id": asked.ID, "date": 1, "chat": chat, "from": api.M{"id": api.ID, "is_bot": true, "first_name": "h"}},
			}))
			got := s.replies(at, n)[n-1].Text
			if found := ofTheirs.FindString(strings.ReplaceAll(got, text, "")); found != "" {
				t.Errorf("%q in chat %d is told %q:\n%s", text, at, found, got)
			}
		}
		n := len(s.In(at)) + 1
		s.Press(chat, asked.ID, asked.Buttons[0]) // a button of theirs
		want(t, s.replies(at, n)[n-1], "settled")
	}
	if after := inGroup(8, "what do I need").Text; after != before {
		t.Errorf("the group's load changed:\n%s\nwas\n%s", after, before)
	}
}

// The state of one chat is of no use: it is told, its bytes are kept where the
// one who looks after the bot finds them, and nobody else waits.
func TestServe_stateOfNoUseStopsNobody(t *testing.T) {
	for name, with := range map[string]func(*config){"polling": func(*config) {}, "webhook": hooked} {
		t.Run(name, func(t *testing.T) {
			s := serving(t, func(c *config) {
				with(c)
				store, err := sessions.Open(c.data)
				if err != nil {
					t.Fatal(err)
				}
				if err := store.Commit(t.Context(), sessions.Change{Chat: "tg:1", Event: "m1.1", State: []byte("\xffnot a state")}); err != nil {
					t.Fatal(err)
				}
				if err := store.Close(); err != nil {
					t.Fatal(err)
				}
			})
			s.Say(api.Private(1), "front left is loose")
			want(t, s.ask(2, rollerWithLock), "ADDS UP")
			want(t, s.replies(1, 1)[0], "can't read any more", "kept aside", "forget me")
			want(t, s.ask(1, rollerWithLock), "ADDS UP")
			if _, body := s.get("/counters"); !strings.Contains(body, `"states_put_aside": 1`) {
				t.Errorf("the operator is not told: %s", body)
			}
			if aside := s.fromSocket("/aside"); !strings.HasPrefix(aside, `"tg:1" "m`) || !strings.Contains(aside, `"\xffnot a state"`) {
				t.Errorf("put aside is %s", aside)
			}
			s.ask(1, "forget me")
			if aside := s.fromSocket("/aside"); aside != "" {
				t.Errorf("forgotten, it is kept: %s", aside)
			}
		})
	}
}

// fromSocket gives a page that only who can read the file may see.
func (s *served) fromSocket(page string) string {
	s.t.Helper()
	client := http.Client{Transport: &http.Transport{DialContext: func(context.Context, string, string) (net.Conn, error) {
		return net.Dial("unix", socketOf(s.config.data))
	}}}
	resp, err := client.Get("http://bot" + page)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil || resp.StatusCode != http.StatusOK {
		s.t.Fatalf("%s: %s %v", page, resp.Status, err)
	}
	client.CloseIdleConnections()
	return string(body)
}

func TestServe_secondProgramIsToldAndTheFirstGoesOn(t *testing.T) {
	s := serving(t, nil)
	s.ask(1, rollerWithLock)
	second := s.config
	if err := second.run(t.Context()); err == nil || !strings.Contains(err.Error(), "another program has this file open: stop that one first") || !strings.Contains(err.Error(), filepath.Base(second.data)) {
		t.Errorf("it is told: %v", err)
	}
	want(t, s.ask(1, "front left is loose"), "SHORT")
	if _, err := os.Stat(socketOf(s.config.data)); err != nil {
		t.Errorf("the second took the first one's socket: %v", err)
	}
}

// A press that is stored is answered, though the program is killed before it
// could, and Telegram is told that the press is dealt with.
func TestCrash_pressIsAnsweredAfterAKill(t *testing.T) {
	for _, point := range []string{"committed", "acknowledged"} {
		t.Run(point, func(t *testing.T) {
			c := newCrash(t)
			after := 2 // the message, and the press
			if point == "acknowledged" {
				c.Fail("answerCallbackQuery", api.Failure{Code: 500, Says: "Internal Server Error"}, api.Failure{Drop: true})
			}
			_, ended := c.start(point, after)
			c.Say(api.Private(1), "14000 lb roller, 4x 3/8 g70 direct")
			if !c.Until(func() bool { return len(c.In(1)) == 1 }) {
				t.Fatal("no reply")
			}
			asked := c.In(1)[0]
			query := c.Press(api.Private(1), asked.ID, asked.Buttons[0])
			select {
			case <-ended:
			case <-time.After(10 * time.Second):
				t.Fatal("it was not killed")
			}
			if n := c.Answered(query); n != 0 {
				t.Fatalf("answered %d times before: the kill comes too late to show anything", n)
			}
			c.start("", 0)
			if !c.Until(func() bool {
				in := c.In(1)
				return c.Answered(query) > 0 && strings.HasPrefix(in[len(in)-1].Text, "ADDS UP")
			}) {
				t.Errorf("the press was answered %d times; the chat has %v", c.Answered(query), c.In(1))
			}
			c.child.Kill()
		})
	}
}
