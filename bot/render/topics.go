package render

import (
	"embed"
	"io/fs"
	"path"
	"strings"
	"sync"
)

// topicFiles are the short answers to common questions. The file's name is the
// topic's key ("boom-lock.md" is "boom lock"); its first line says where the
// answer is from.
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
		lines := strings.Split(strings.TrimSpace(string(text)), "\n")
		key := strings.ReplaceAll(strings.TrimSuffix(path.Base(name), ".md"), "-", " ")
		all[key] = topic{lines[0], lines[1:]}
	}
	return all
})

// topic gives a short answer, then where it is from.
func (p *page) topic(key string) {
	t, ok := topics()[key]
	if !ok {
		p.say(p.w.NoTopic)
		return
	}
	p.lines(t.lines)
	p.line(t.source)
}
