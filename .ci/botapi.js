// Holds a recording of the bot's calls against a schema of the Bot API that is
// not ours: node botapi.js FOLDER RECORDING, where FOLDER has the npm packages
// and, in schema.json, the schema made of @gramio/types.
const fs = require("fs")
const [folder, recording] = process.argv.slice(2)
const Ajv = require(require.resolve("ajv", { paths: [folder] }))

const schema = JSON.parse(fs.readFileSync(`${folder}/schema.json`))
const ajv = new Ajv({ strict: false, allErrors: true })
ajv.addSchema(schema, "api")

// The methods and the type of each one's parameters, null where it takes none.
const methods = {}
const declared = fs.readFileSync(`${folder}/node_modules/@gramio/types/out/methods.d.ts`, "utf8")
for (const [, name, params] of declared.matchAll(/^ {4}(\w+): CallAPI\w*<\s*(?:Params\.(\w+))?/gm)) methods[name] = params ?? null

// What the documentation of the Bot API says in words only. Lengths of texts are
// in UTF-16 units, which count for more than characters do.
const between = (least, most) => v => v.length >= least && v.length <= most
const whole = (least, most) => v => Number.isInteger(v) && v >= least && v <= most
const chat = v => Number.isInteger(v) || /^@\w+$/.test(v)
const words = {
	sendMessage: { chat_id: chat, text: v => between(1, 4096)(v) && v.trim() !== "" },
	editMessageText: { chat_id: chat, message_id: whole(1, 2 ** 31), text: v => between(1, 4096)(v) && v.trim() !== "" },
	sendPhoto: { chat_id: chat, caption: between(0, 1024) },
	sendDocument: { chat_id: chat, caption: between(0, 1024) },
	answerCallbackQuery: { callback_query_id: between(1, Infinity), text: between(0, 200) },
	getUpdates: { limit: whole(1, 100), timeout: whole(0, 2 ** 31), offset: whole(-(2 ** 31), 2 ** 31) },
	setWebhook: { secret_token: v => /^[\w-]{1,256}$/.test(v), max_connections: whole(1, 100) },
	setMyCommands: {
		commands: v => v.length <= 100 && v.every(c => /^[a-z0-9_]{1,32}$/.test(c.command) && between(1, 256)(c.description)),
	},
}
const keyboard = k => (k.inline_keyboard ?? []).flat().every(button => {
	const does = Object.keys(button).filter(f => !["text", "style", "icon_custom_emoji_id"].includes(f))
	const bytes = Buffer.byteLength(button.callback_data ?? "x")
	return button.text !== "" && does.length === 1 && bytes >= 1 && bytes <= 64
})

// value is a form's text as what its type says: itself where the type takes a
// string, else the JSON in it.
function value(type, name, text) {
	const as = ajv.getSchema(`api#/definitions/${type}/properties/${name}`)
	if (!as) throw `${name} is no parameter`
	let json
	try { json = JSON.parse(text) } catch { /* a plain text */ }
	if (typeof json === "number" && as(json)) return json
	if (as(text)) return text
	if (json === undefined) throw `${name} is ${text}: neither a text nor JSON`
	return json // the whole is checked below
}

// wrong says what is wrong with a call; undefined for nothing.
function wrong({ method, params }) {
	if (!Object.hasOwn(methods, method)) return "no such method"
	const type = methods[method]
	if (!type) return Object.keys(params ?? {}).length ? "it takes no parameters" : undefined
	const call = {}
	try {
		for (const [name, text] of Object.entries(params ?? {})) call[name] = value(type, name, text)
	} catch (e) { return e.message ?? e }
	const check = ajv.getSchema(`api#/definitions/${type}`)
	if (!check(call)) return ajv.errorsText(check.errors)
	for (const [name, holds] of Object.entries(words[method] ?? {}))
		if (name in call && !holds(call[name])) return `${name} is against the documentation's words`
	if (method === "editMessageText" && !("inline_message_id" in call || "chat_id" in call && "message_id" in call)) return "no message is named"
	if (method === "editMessageText" && !("text" in call || "rich_message" in call)) return "there is no text"
	if (call.reply_markup && !keyboard(call.reply_markup)) return "reply_markup is against the documentation's words"
}

const calls = fs.readFileSync(recording, "utf8").split("\n").filter(Boolean).map(line => JSON.parse(line))
for (const call of calls) {
	const why = wrong(call)
	if (why !== undefined) {
		console.error(`${JSON.stringify(call)}\n${call.method}: ${why}`)
		process.exit(1)
	}
}

// What must have happened in the recording, or it shows nothing.
const happened = {
	"the bot asks who it is": c => c.method === "getMe",
	"the menu is set": c => c.method === "setMyCommands",
	"asking for updates: a webhook is given up": c => c.method === "deleteWebhook",
	"asking for updates: told to wait": c => c.method === "getUpdates" && c.status === 429,
	"asking for updates: a fault": c => c.method === "getUpdates" && c.status >= 500,
	"asking for updates: a lost connection": c => c.method === "getUpdates" && c.status === 0,
	"a webhook with a secret": c => c.method === "setWebhook" && c.params.secret_token,
	"a chat that blocked the bot": c => c.method === "sendMessage" && c.status === 403,
}
for (const way of ["polling", "webhook"]) {
	const sent = (method, holds) => c => c.way === way && c.method === method && holds(c)
	Object.assign(happened, {
		[`${way}: a reply`]: sent("sendMessage", c => c.status === 200),
		[`${way}: a reply with buttons`]: sent("sendMessage", c => c.status === 200 && c.params.reply_markup),
		[`${way}: a reply in a group`]: sent("sendMessage", c => c.status === 200 && c.params.reply_parameters),
		[`${way}: told to wait`]: sent("sendMessage", c => c.status === 429),
		[`${way}: a fault`]: sent("sendMessage", c => c.status >= 500),
		[`${way}: a lost connection`]: sent("sendMessage", c => c.status === 0),
		[`${way}: a group that moved`]: sent("sendMessage", c => c.moved),
		[`${way}: a changed reply`]: sent("editMessageText", c => c.status === 200),
		[`${way}: an answered press`]: sent("answerCallbackQuery", c => c.status === 200),
	})
}
const lacking = Object.keys(happened).filter(what => !calls.some(happened[what]))
if (lacking.length) {
	console.error(`the recording of ${calls.length} calls lacks: ${lacking.join("; ")}`)
	process.exit(1)
}

// What it must not let pass, made of a call that passed.
const asked = calls.find(c => c.method === "sendMessage" && c.params.reply_markup)
const changed = calls.find(c => c.method === "editMessageText")
const make = (call, fields) => ({ method: call.method, params: { ...call.params, ...fields } })
const markup = (data, more) => JSON.stringify({ inline_keyboard: [[{ text: "YES", callback_data: data, ...more }]] })
const faults = {
	"a chat that is no number": make(asked, { chat_id: "seventeen" }),
	"a field of the wrong type": make(changed, { message_id: "first" }),
	"a field of the wrong type inside": make(asked, { reply_markup: '{"inline_keyboard":[[{"text":7,"callback_data":"x"}]]}' }),
	"an unknown field": make(asked, { colour: "red" }),
	"an unknown field inside": make(asked, { reply_markup: markup("x", { colour: "red" }) }),
	"a button that does two things": make(asked, { reply_markup: markup("x", { copy_text: { text: "x" } }) }),
	"callback data of 65 bytes": make(asked, { reply_markup: markup("x".repeat(65)) }),
	"callback data of 65 bytes in 33 characters": make(asked, { reply_markup: markup("é".repeat(32) + "x") }),
	"callback data of none": make(asked, { reply_markup: markup("") }),
	"a text of 4,097": make(asked, { text: "x".repeat(4097) }),
	"an empty text": make(asked, { text: " \n" }),
	"a kind of update that is none": { method: "getUpdates", params: { allowed_updates: '["mesage"]' } },
	"a missing field": { method: "sendMessage", params: { chat_id: "1" } },
	"a method that is none": { method: "sendMesage", params: asked.params },
}
for (const [what, call] of Object.entries(faults))
	if (wrong(call) === undefined) {
		console.error(`the check lets pass: ${what}`)
		process.exit(1)
	}

console.log(`${calls.length} calls match the schema: ${Object.keys(happened).length} situations, ${Object.keys(faults).length} faults told; ${[...new Set(calls.map(c => c.method))].sort().join(" ")}`)
