// Holds the program's count of segments against packages that others wrote.
// node segments.mjs samples.json, with the packages in node_modules beside it.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const require = createRequire(pathToFileURL(process.cwd() + '/'))
const { SegmentedMessage } = require('sms-segments-calculator')
const { count } = require('sms-length')
const gsm = require('gsm')

const samples = JSON.parse(readFileSync(process.argv[2], 'utf8'))
if (samples.length === 0) throw new Error('no samples')
const off = { 'sms-segments-calculator': 0, 'sms-length': 0, gsm: 0 }
for (const { text, segments } of samples) {
  const counts = {
    'sms-segments-calculator': new SegmentedMessage(text, 'GSM-7').segmentsCount,
    'sms-length': count(text).messages,
    gsm: gsm(text).sms_count,
  }
  for (const [name, n] of Object.entries(counts)) {
    if (n !== segments) {
      off[name]++
      if (off[name] <= 3) console.log(`${name}: ${n}, ours ${segments}: ${JSON.stringify(text)}`)
    }
  }
}
console.log(`${samples.length} samples; counted otherwise: ${JSON.stringify(off)}`)
process.exitCode = Object.values(off).some(n => n > 0) ? 1 : 0
