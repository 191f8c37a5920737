// Package sessions keeps what each chat has told, and makes every event count
// once. It knows bytes and no load.
//
// There are two stores with one behaviour: DB, a bbolt file, and Memory, which
// lasts as long as the program. All that one event changes is one Change: the
// mark that the event was seen, the chat's state, the answer, and the rows of
// the outbox that send it. A change is stored whole or not at all.
//
// The file of version 2. A <name> is its length in two bytes and then its bytes,
// so that none is the beginning of another; a <seq> is eight bytes and an <n>
// two, big-endian, so that keys stand in the order of what they number. Times are
// milliseconds since 1970 in eight bytes.
//
//	meta    "version"              the version of the file, eight bytes
//	chat    <chat>                 seq of its last event, the state
//	seen    <chat> <event>         seq, time; swept when old
//	answer  <chat> <seq>           the bodies the event was answered with; swept with it
//	out     <chat> <seq> <n>       a body to send: not before, tries (4 bytes), <event>, the body
//	sent    <chat> <event> <n>     the transport's own id of body n of the answer; swept with the event
//	moved   <chat>                 the name it goes by now
//	aside   <chat> <why>           a state that could not be used; kept until the chat is forgotten
//
// A bucket that came later is made where it is missing: that needs no new version.
//
// A crash before the commit leaves nothing, and the event is delivered again; one
// after it leaves the rows of the outbox, which are sent at the next start. Only
// a crash between sending a row and removing it sends something twice. So an
// event has its effect on the state exactly once, and its answer is sent at least
// once, in order.
package sessions
