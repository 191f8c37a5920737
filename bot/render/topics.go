package render

import (
	"embed"
	"io/fs"
	"path"
	"strings"
	"sync"

	"halfweight/bot/talk"
)

// topicFiles are the short answers to common questions. The file's name is the
// topic's key ("boom-lock.md" is "boom lock"); its first line says where the
// answer is from, and is empty where it states nothing.
//
//go:embed topics/*.md
var topicFiles embed.FS

// topic is one short answer.
type topic struct {
	source string
	lines  []string
}

var topics = sync.OnceValue(func() map[string]topic {
	all := map[string]topic{}
	names, err := fs.Glob(topicFiles, "topics/*.md")
	if err != nil {
		panic(err) // only a malformed pattern
	}
	for _, name := range names {
		text, err := topicFiles.ReadFile(name)
		if err != nil {
			panic(err) // embedded: always there
		}
		lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
		key := strings.ReplaceAll(strings.TrimSuffix(path.Base(name), ".md"), "-", " ")
		all[key] = topic{lines[0], lines[1:]}
	}
	return all
})

// besideLoad is how many lines of an answer stand beside a load's reply.
const besideLoad = 2

// topic gives a short answer, then where it is from; beside a load's reply only
// how it begins. Asked whether to go, it says first how the load in hand stands.
func (p *page) topic(key string, near []string, r talk.Reply) {
	t, ok := topics()[key]
	if !ok {
		p.say(p.w.NoTopic)
		if len(near) > 0 {
			p.say(p.w.Nearest, "list", strings.Join(near, " / "))
		}
		return
	}
	if r.Report != nil {
		p.lines(t.lines[:min(len(t.lines), besideLoad)])
		return
	}
	if key == "go ahead" {
		p.line(p.w.Stands[r.LoadVerdict])
	}
	p.lines(t.lines)
	p.line(t.source)
}
