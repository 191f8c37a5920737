package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"

	"halfweight/bot/talk"
	"halfweight/sessions"
)

// past reads the loads that a chat put away, oldest first. A record that cannot be
// read is left out: it must not keep the chat from its answers.
func (e *Engine) past(ctx context.Context, chat string) ([]talk.Past, error) {
	entries, err := e.store.Log(ctx, chat)
	if err != nil {
		return nil, fmt.Errorf("read the log of chat %q: %w", chat, err)
	}
	list := make([]talk.Past, 0, len(entries))
	for _, entry := range entries {
		var p talk.Past
		if err := json.Unmarshal(entry.Bytes, &p); err != nil {
			slog.Error("a past load cannot be read", "n", entry.N, "err", err)
			continue
		}
		list = append(list, p)
	}
	return list, nil
}

// records are the past loads as they are stored.
func records(list []talk.PastRecord) ([]sessions.Entry, error) {
	var entries []sessions.Entry
	for _, r := range list {
		entry := sessions.Entry{N: r.N}
		if r.Past != nil {
			var err error
			if entry.Bytes, err = json.Marshal(r.Past); err != nil {
				return nil, err
			}
		}
		entries = append(entries, entry)
	}
	return entries, nil
}
