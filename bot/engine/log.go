package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"slices"

	"halfweight/bot/talk"
	"halfweight/sessions"
)

// past reads the loads that a chat put away, oldest first; of a chat that had two
// names they are not numbered so. A record that cannot be read is left out: it must
// not keep the chat from its answers.
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
	slices.SortStableFunc(list, func(a, b talk.Past) int { return a.At.Compare(b.At) })
	return list, nil
}

// lastLogged is the number of the last record of a chat's log: where a chat begins
// anew, its records go on from there.
func (e *Engine) lastLogged(ctx context.Context, chat string) (uint64, error) {
	entries, err := e.store.Log(ctx, chat)
	if err != nil {
		return 0, fmt.Errorf("read the log of chat %q: %w", chat, err)
	}
	if len(entries) == 0 {
		return 0, nil
	}
	return entries[len(entries)-1].N, nil
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
