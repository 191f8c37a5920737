package main

import (
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"
)

// console answers messages until the input ends: edited on the line where a
// person sits at a terminal, else a message a line.
func (p *program) console(in, out *os.File) int {
	converse := p.converseOnTerminal
	if !term.IsTerminal(int(in.Fd())) || !term.IsTerminal(int(out.Fd())) {
		converse = func(in, _ *os.File) error { return lines(in, p.reply) }
	}
	if err := converse(in, out); err != nil {
		return p.ui.mistake(err.Error(), "start again: what was told is gone")
	}
	return exitFine
}

// reply prints the reply to one message of a talk, and an empty line.
func (p *program) reply(text string) error {
	body, err := p.answer("", text, false)
	if err == nil {
		p.ui.print(body.Text + "\n")
	}
	return err
}

// converseOnTerminal keeps the terminal in raw mode while it lasts.
func (p *program) converseOnTerminal(in, out *os.File) error {
	was, err := term.MakeRaw(int(in.Fd()))
	if err != nil {
		return err
	}
	ed := newEditor(in, out, func() (width, height int, err error) { return term.GetSize(int(out.Fd())) })
	leave := func() {
		ed.close()
		term.Restore(int(in.Fd()), was)
	}
	defer leave()

	stop := make(chan os.Signal, 1)
	signal.Notify(stop, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		<-stop
		leave()
		os.Exit(exitFine)
	}()

	p.ui.out = ed
	p.ui.print(greeting)
	return ed.messages(p.reply)
}
