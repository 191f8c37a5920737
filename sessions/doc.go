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
//	meta   "version"               the version of the file, eight bytes
//	state  <chat>                  the state
//	event  <chat> <event>          its number, time, 1 or (only an edit of it was seen) 0, the
//	                               bodies it was answered with; swept when old
//	out    <chat> <number> <n>     a body to send: not before, tries (4 bytes), <event> whose answer
//	                               it is, and then 0 and the event that has the body, or 1 and the body
//	sent   <number> <n>            the transport's own id of body n of the answer to the event of that
//	                               number; swept with the event
//	log    <chat> <number>         a record of the chat, by its own number
//	moved  <chat>                  the name it goes by now
//	aside  <chat> <why>            a state that could not be used; kept until the chat is forgotten
//	spent  a digest of <chat> <event>   time, the bodies of the answer to it where none was to send:
//	                               an event of a chat that was forgotten, or a move; swept when old
//
// Numbers are given in the order of the changes, for all chats. So what one batch
// adds to out and sent stands close together whichever chats it is of, and a message
// changes two pages of its own: its chat's state and its chat's last event. A body
// stands with its event; a row has it where the event has not, or may go before it.
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
