package main

import (
	"fmt"
	"strings"
	"testing"

	api "halfweight/bot/telegram/apitest"
)

// ways are the two by which messages come in.
var ways = map[string]func(*config){
	"polling": nil,
	"webhook": func(c *config) { c.webhook = "http://" + c.webhookListen + "/hook" },
}

// sayAs has one of several people in a group call the bot.
func (s *served) sayAs(person int, chat api.Chat, text string) api.M {
	m := s.Message(chat, "@"+api.Name+" "+text, api.M{"from": api.M{"id": person, "is_bot": false, "first_name": "P"}})
	s.Update("message", m)
	return m
}

// A driver's whole talk, with whatever goes wrong on the way, is the same by
// either way.
func TestServe_wholeTalkByEitherWay(t *testing.T) {
	for way, with := range ways {
		t.Run(way, func(t *testing.T) {
			s := serving(t, with)
			const driver = 1
			m := s.Say(api.Private(driver), "14000 lb roller, 3x 3/8 g70 direct")
			want(t, s.replies(driver, 1)[0], "14,000")
			s.Edit(m, "14000 lb roller, 4x 3/8 g70 direct")
			if !s.Until(func() bool { return s.In(driver)[0].Edits == 1 }) {
				t.Fatalf("the reply was not changed: %v", s.In(driver))
			}
			asked := s.In(driver)[0]
			want(t, asked, "CAN'T CALL IT YET")
			if len(asked.Buttons) == 0 {
				t.Fatalf("no buttons under\n%s", asked.Text)
			}

			s.Fail("sendMessage", api.Failure{Code: 429, Says: "Too Many Requests: retry after 1", RetryAfter: 1}, api.Failure{Code: 502, Says: "Bad Gateway"})
			pressed := s.Press(api.Private(driver), asked.ID, asked.Buttons[0])
			want(t, s.replies(driver, 2)[1], "ADDS UP", "Joint locked")
			s.Fail("sendMessage", api.Failure{Drop: true})
			again := s.Press(api.Private(driver), asked.ID, asked.Buttons[0])
			want(t, s.replies(driver, 3)[2], "settled")
			for _, q := range []string{pressed, again} {
				if !s.Until(func() bool { return s.Answered(q) >= 1 }) { // again with each try to send the reply
					t.Errorf("press %s was not answered", q)
				}
			}
			want(t, s.ask(driver, "front left is loose"), "SHORT", "front left")
			want(t, s.ask(driver, "why"), "front left")
			want(t, s.ask(driver, "/undo"), "ADDS UP")
			want(t, s.ask(driver, "when do I check next"), "50 miles")
			want(t, s.ask(driver, "/new_load"))
			want(t, s.ask(driver, "front left is loose"), "No load")
		})
	}
}

// Two people in a group share its load, also when it becomes a supergroup; a third
// outside sees nothing of theirs.
func TestServe_twoInAGroupAndAThirdOutside(t *testing.T) {
	const ann, bob, third = 7, 8, 9
	for way, with := range ways {
		t.Run(way, func(t *testing.T) {
			s := serving(t, with)
			crew, outside := api.Group(5), int64(third)
			s.sayAs(ann, crew, "gear 6x 1/2 g70")
			s.replies(-5, 1)
			s.sayAs(ann, crew, "13300 lb roller, lock bar in, 4x 1/2 g70 direct")
			want(t, s.replies(-5, 2)[1], "ADDS UP", "13,300")
			want(t, s.ask(outside, "why"), "No load")
			s.sayAs(bob, crew, "front left is loose")
			want(t, s.replies(-5, 3)[2], "SHORT", "front left")
			s.sayAs(ann, crew, "gear")
			want(t, s.replies(-5, 4)[3], "1/2")
			for _, text := range []string{"gear", "undo", "what do I need", "front left tight"} {
				s.ask(outside, text)
			}
			s.sayAs(ann, crew, "front left tight")
			want(t, s.replies(-5, 5)[4], "ADDS UP") // nothing of the third's was counted

			s.Fail("sendMessage", api.Failure{Code: 400, Says: "Bad Request: group chat was upgraded to a supergroup chat", MigrateTo: -100200})
			s.sayAs(bob, crew, "rear right is loose")
			want(t, s.replies(-100200, 1)[0], "SHORT", "rear right")
			s.sayAs(ann, api.Chat{ID: -100200, Type: "supergroup"}, "why")
			want(t, s.replies(-100200, 2)[1], "rear right")

			for _, seen := range s.In(outside) {
				for _, theirs := range []string{"13,300", "1/2", "rear right"} {
					if strings.Contains(seen.Text, theirs) {
						t.Errorf("the third was told %q:\n%s", theirs, seen.Text)
					}
				}
			}
			for _, c := range s.Calls("sendMessage") {
				if to := c.Params["chat_id"]; to != "-5" && to != "-100200" && to != fmt.Sprint(third) {
					t.Errorf("it wrote to %s", to)
				}
			}
		})
	}
}
