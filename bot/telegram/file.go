package telegram

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"
)

// maxFile is the most bytes of a file that is read; a record of a chat is less.
const maxFile = 1 << 20

// fileOf is the id of the file that a message brings, where it may be a record of
// a chat that is sent back; "" for none.
func fileOf(m *models.Message) string {
	d := m.Document
	if d == nil || d.FileSize > maxFile || m.Animation != nil {
		return ""
	}
	if strings.HasSuffix(strings.ToLower(d.FileName), ".json") || d.MimeType == "application/json" {
		return d.FileID
	}
	return ""
}

// readFile puts what stands in a file in the place of the event's words. Where it
// cannot be had, the event stays what it was: a file that is not read.
func (t *Transport) readFile(ctx context.Context, e *event) {
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	data, err := t.download(ctx, e.file)
	if err != nil {
		t.opts.Count("files_unread")
		slog.Warn("a file could not be read", "err", t.redact(err))
		return
	}
	if text := bytes.TrimSpace(data); utf8.Valid(text) && bytes.HasPrefix(text, []byte("{")) {
		e.in.Text, e.in.Other = string(text), ""
	}
}

func (t *Transport) download(ctx context.Context, id string) ([]byte, error) {
	file, err := t.bot.GetFile(ctx, &bot.GetFileParams{FileID: id})
	if err != nil {
		return nil, err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, t.bot.FileDownloadLink(file), nil)
	if err != nil {
		return nil, err
	}
	res, err := t.poller.client.Do(req)
	if err != nil {
		return nil, err
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("the file is answered with %s", res.Status)
	}
	data, err := io.ReadAll(io.LimitReader(res.Body, maxFile+1))
	if err == nil && len(data) > maxFile {
		err = fmt.Errorf("the file is longer than %d bytes", maxFile)
	}
	return data, err
}
