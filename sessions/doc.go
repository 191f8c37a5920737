// Package sessions keeps what each chat has told, and makes every event count
// once. It knows bytes and no load.
//
// There are two stores with one behaviour: DB, a bbolt file, and Memory, which
// lasts as long as the program. All that one event changes is one Change: the
// mark that the event was seen, the chat's state, the answer, and the rows of
// the outbox that send it. A change is stored whole or not at all.
//
// The file of version 4. A <name> is its length in two bytes and then its bytes,
// so that none is the beginning of another; a <number> is eight bytes and an <n>
// two, big-endian, so that keys stand in the order of what they number. Times are
// milliseconds since 1970 in eight bytes.
//
//	meta   "version"             the version of the file, eight bytes
//	told   <chat> 0 <event>      number of the answer, time, 1; 0 where only an edit of it was seen;
//	                             swept when old
//	told   <chat> 1              the chat's state
//	body   <number>              the bodies of an answer; swept with the event
//	sent   <number> <n>          the transport's own id of body n; swept with the event
//	out    <chat> <number> <n>   body n to send: not before, tries (4 bytes), <event> whose answer it
//	                             is, 0; or 1 and the body where it is not that of the number
//	log    <chat> <number>       a record of the chat, by its own number
//	moved  <chat>                the name it goes by now
//	aside  <chat> <why>          a state that could not be used; kept until the chat is forgotten
//	spent  a digest of <chat> <event>   time, the bodies of the answer to it where none was to send:
//	                             an event of a chat that was forgotten, or a move; swept when old
//
// Changes are numbered as they come, whichever chats they are of: what many of them
// add to body and sent, and to the few rows that wait in out, shares pages. All else
// that a message changes is its mark and its chat's state, which stand together.
//
// A chat that is forgotten leaves no key and no record with a name it had, but for
// the answer that says so while it waits in the outbox.
//
// A bucket that came later is made where it is missing. That needs a new version
// only where a program of the one before would do harm in not knowing it.
//
// A crash before the commit leaves nothing, and the event is delivered again; one
// after it leaves the rows of the outbox, which are sent at the next start. Only
// a crash between sending a row and removing it sends something twice. So an
// event has its effect on the state exactly once, and its answer is sent at least
// once, in order.
package sessions
