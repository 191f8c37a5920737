package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"

	"halfweight/sessions"
)

// socketOf is where a running bot hands out a copy of its file: only who may read
// the file may ask.
func socketOf(data string) string { return data + ".sock" }

// copier hands out the store as it is at the moment of the call, and the states
// that were put aside, one to a line.
func copier(store *sessions.DB) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /copy", func(w http.ResponseWriter, req *http.Request) {
		if _, err := store.WriteTo(w); err != nil {
			panic(http.ErrAbortHandler) // what was sent is not a copy
		}
	})
	mux.HandleFunc("GET /aside", func(w http.ResponseWriter, req *http.Request) {
		list, err := store.Aside(req.Context())
		if err != nil {
			http.Error(w, err.Error(), http.StatusServiceUnavailable)
			return
		}
		for _, a := range list {
			fmt.Fprintf(w, "%q %q %q\n", a.Chat, a.Why, a.State)
		}
	})
	return mux
}

// backup copies the file, from the bot that has it open or, where none runs, by
// itself. A copy that is not whole is never left under the name asked for.
func backup(ui screen, args []string, env func(string) string) int {
	const how = "go run ./bot backup -data halfweight.db copy.db"
	told, rest, err := tell("backup", []setting{dataSetting}, args, env)
	switch {
	case errors.Is(err, flag.ErrHelp):
		ui.print(usage)
		return exitFine
	case err != nil:
		return ui.mistake(err.Error(), how)
	case len(rest) != 1:
		return ui.mistake(fmt.Sprintf("backup takes the name of the copy and got %q", rest), how)
	}
	if err := backUp(told["data"], rest[0]); err != nil {
		ui.mistake(err.Error(), "nothing was copied")
		return exitFailed
	}
	return exitFine
}

func backUp(data, to string) (err error) {
	if _, err := os.Stat(data); err != nil {
		return err
	}
	if _, err := os.Stat(to); err == nil {
		return fmt.Errorf("%q is there already", to)
	}
	part := to + ".part"
	f, err := os.OpenFile(part, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	defer os.Remove(part) // it is not there any more when all went well
	err = copyStore(f, data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("copy %q: %w", data, err)
	}
	if err := checkStore(part); err != nil {
		return err
	}
	return os.Rename(part, to)
}

// copyStore writes a copy of the store, from the bot that has it open or else
// from the file.
func copyStore(w io.Writer, data string) error {
	socket, err := net.Dial("unix", socketOf(data))
	if err != nil {
		store, err := sessions.Open(data)
		if err != nil {
			return err
		}
		_, err = store.WriteTo(w)
		return errors.Join(err, store.Close())
	}
	defer socket.Close()
	client := http.Client{Transport: &http.Transport{
		DialContext: func(context.Context, string, string) (net.Conn, error) { return socket, nil },
	}}
	resp, err := client.Get("http://bot/copy")
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("the running bot answers %s", resp.Status)
	}
	_, err = io.Copy(w, resp.Body)
	return err
}

// checkStore says whether a copy is whole.
func checkStore(path string) error {
	store, err := sessions.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(store.Check(), store.Close())
}
