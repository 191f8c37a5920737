package main

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"halfweight/bot/engine"
	api "halfweight/bot/telegram/apitest"
	"halfweight/bot/wire"
	"halfweight/sessions"
)

// echo starts a bot of the same library that sends every text back and keeps
// nothing.
func echo(b *testing.B, s *api.Server, with ...bot.Option) (stop func()) {
	b.Helper()
	back := func(ctx context.Context, tg *bot.Bot, u *models.Update) {
		if _, err := tg.SendMessage(ctx, &bot.SendMessageParams{ChatID: u.Message.Chat.ID, Text: u.Message.Text}); err != nil && ctx.Err() == nil {
			b.Error(err)
		}
	}
	tg, err := bot.New(api.Token, append(with, bot.WithServerURL(s.URL), bot.WithDefaultHandler(back))...)
	if err != nil {
		b.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() { tg.Start(ctx); close(ended) }()
	return func() { cancel(); <-ended }
}

// as64 has the library work as this bot does: so many handlers and connections.
func as64() []bot.Option {
	dial := http.DefaultTransport.(*http.Transport).Clone()
	dial.MaxIdleConnsPerHost = 64
	return []bot.Option{
		bot.WithWorkers(64), bot.WithNotAsyncHandlers(),
		bot.WithHTTPClient(50*time.Second, &http.Client{Transport: dial}),
	}
}

// flood has so many chats say so much, turn about, once the bot asks for it, and
// gives how many messages a second were answered and the processor time of one.
func flood(b *testing.B, s *api.Server, chats, messages int) (perSecond, micros float64) {
	b.Helper()
	if !s.Until(func() bool { return s.Made("getUpdates") > 0 }) {
		b.Fatal("it asks for no updates")
	}
	updates := make([]string, messages)
	for i := range updates {
		updates[i] = fmt.Sprintf(`{"update_id":%%d,"message":{"message_id":%d,"date":%d,"chat":{"id":%d,"type":"private"},"from":{"id":7,"is_bot":false,"first_name":"A"},"text":"%s"}}`,
			i+1, time.Now().Unix(), i%chats+1, talkOf(i/chats))
	}
	start, used := time.Now(), processorTime(b)
	s.PushAll(updates)
	for s.Made("sendMessage") < messages {
		if time.Since(start) > 2*time.Minute {
			b.Fatalf("%d of %d answered", s.Made("sendMessage"), messages)
		}
		time.Sleep(time.Millisecond)
	}
	took, spent := time.Since(start), processorTime(b)-used
	return float64(messages) / took.Seconds(), float64(spent.Nanoseconds()) / 1000 / float64(messages)
}

// processorTime is what this process has used of the processors.
func processorTime(b *testing.B) time.Duration {
	b.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// talkOf is message n of a chat: a load, the answer to what is asked of it, three
// changes, and then the next load, of another weight.
func talkOf(n int) string {
	talk := []string{
		fmt.Sprintf("%d lb roller, 4x 3/8 g70 direct", 10_001+n),
		"lock bar in", "front left is loose", "front left tight", "add 1x 3/8 g70 over",
	}
	return talk[n%len(talk)]
}

// inOrder fails where a chat's answers are not those to its messages, one to each,
// in their order.
func inOrder(b *testing.B, s *api.Server, chats, messages int) {
	b.Helper()
	straight := engine.New(new(sessions.Memory))
	var answers []string
	for n := range (messages + chats - 1) / chats {
		r, err := straight.Handle(b.Context(), wire.In{ID: fmt.Sprint(n), Chat: "con:a", Text: talkOf(n), At: time.Now()})
		if err != nil {
			b.Fatal(err)
		}
		answers = append(answers, r.Bodies[0].Text)
	}
	for chat := range chats {
		var got []string
		for _, m := range s.In(int64(chat + 1)) {
			got = append(got, m.Text)
		}
		if want := answers[:(messages-chat+chats-1)/chats]; !slices.Equal(got, want) {
			b.Fatalf("chat %d got %q, want %q", chat+1, got, want)
		}
	}
}

// BenchmarkServe_besideBareEchoes is how many messages a second are answered, by
// this bot (each stored and written through to the disk, its answers in order) and
// by bots of the same library that only echo: as the library comes, and with 64
// workers and connections. All three call a server of the test in this process,
// which takes its part of the time, and nothing limits how fast they send. A round
// is one flood of each, one after the other; what is told is the median round, by
// the clock and, since others may be at work on the machine, by the processor time
// that a message takes.
func BenchmarkServe_besideBareEchoes(b *testing.B) {
	for _, load := range []struct{ chats, messages int }{{1, 1000}, {100, 10_000}, {10_000, 20_000}} {
		b.Run(fmt.Sprint(load.chats), func(b *testing.B) {
			var ours, plain, best pace
			for range b.N {
				s := serving(b, nil)
				ours.add(flood(b, s.Server, load.chats, load.messages))
				inOrder(b, s.Server, load.chats, load.messages)
				if err := s.stop(); err != nil {
					b.Fatal(err)
				}
				for _, e := range []struct {
					with []bot.Option
					pace *pace
				}{{nil, &plain}, {as64(), &best}} {
					s := api.New()
					stop := echo(b, s, e.with...)
					e.pace.add(flood(b, s, load.chats, load.messages))
					stop()
					s.Close()
				}
			}
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(median(ours.perSecond), "ours/s")
			b.ReportMetric(median(plain.perSecond), "echo/s")
			b.ReportMetric(median(best.perSecond), "echo64/s")
			b.ReportMetric(median(over(ours.perSecond, plain.perSecond)), "of-echo")
			b.ReportMetric(median(over(ours.perSecond, best.perSecond)), "of-echo64")
			b.ReportMetric(median(ours.micros), "ours-µs")
			b.ReportMetric(median(over(plain.micros, ours.micros)), "of-echo-cpu")
			b.ReportMetric(median(over(best.micros, ours.micros)), "of-echo64-cpu")
		})
	}
}

// pace is how it went, round by round: messages a second, and processor time of
// one, in microseconds.
type pace struct{ perSecond, micros []float64 }

func (p *pace) add(perSecond, micros float64) {
	p.perSecond, p.micros = append(p.perSecond, perSecond), append(p.micros, micros)
}

func over(a, b []float64) []float64 {
	all := make([]float64, len(a))
	for i := range a {
		all[i] = a[i] / b[i]
	}
	return all
}

func median(all []float64) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)/2]
}
