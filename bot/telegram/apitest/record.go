package apitest

import (
	"encoding/json"
	"net/http"
	"os"
)

// RecordTo names the environment variable that names the file to which every
// call is added as a line of JSON: its method, its parameters as they came (those
// of a form are text), by which way updates come to the bot, and the status of the
// answer, 0 where the connection was dropped.
const RecordTo = "BOT_API_RECORD"

func openRecord() *os.File {
	name := os.Getenv(RecordTo)
	if name == "" {
		return nil
	}
	file, err := os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		panic(err)
	}
	return file
}

// write adds a call to the record, in one write, for others may add to it too.
func (s *Server) write(c Call, f Failure) {
	if s.record == nil {
		return
	}
	line := struct {
		Method string            `json:"method"`
		Params map[string]string `json:"params"`
		Way    string            `json:"way"`
		Status int               `json:"status"`
		Moved  bool              `json:"moved,omitempty"`
	}{c.Method, c.Params, "polling", f.Code, f.MigrateTo != 0}
	if s.Secret() != "" {
		line.Way = "webhook"
	}
	switch {
	case f.Drop || f.DropAfter:
		line.Status = 0
	case f.Code == 0:
		line.Status = http.StatusOK
	}
	raw, err := json.Marshal(line)
	if err != nil {
		panic(err)
	}
	if _, err := s.record.Write(append(raw, '\n')); err != nil {
		panic(err)
	}
}
