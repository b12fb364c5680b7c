import * as z from 'zod/mini'
import prompts from '../../prompts/en/doors.yaml'
import { checkedSayer, readPrompts } from '../questions/common/words'

const schema = z.strictObject({ sentences: z.record(z.string(), z.string()) })

/** What the doors say, on a page, on the terminal and to a program, with the placeholders of each. */
const needs = {
  'start.ready': ['address'],
  'start.setting': ['setting', 'must'],
  'start.unlocked': ['setting'],
  'start.plain': [],
  'start.unpaired': [],
  'start.noLog': ['why'],
  'start.secretOpen': ['file'],
  'start.secretBroken': ['file'],
  'start.book': ['file', 'why'],
  'start.noListen': ['address', 'why'],
  'must.port': [],
  'must.host': [],
  'must.data': [],
  'must.flag': [],
  'must.name': [],
  'must.secret': [],
  'must.log': [],
  'terminal.code': ['code', 'minutes'],
  'terminal.address': ['address'],
  'terminal.noAddress': [],
  'terminal.device': ['id', 'paired', 'used', 'name'],
  'terminal.none': [],
  'terminal.revoked': ['id'],
  'terminal.noDevice': ['id'],
  'terminal.usage': [],
  'pair.title': [],
  'pair.how': ['minutes'],
  'pair.code': [],
  'pair.codeHint': [],
  'pair.name': [],
  'pair.nameHint': [],
  'pair.unnamed': [],
  'pair.go': [],
  'pair.wrong': [],
  'pair.tooMany': [],
  'pair.needsHttps': [],
  'devices.title': [],
  'devices.how': [],
  'devices.this': [],
  'devices.paired': ['day'],
  'devices.used': ['day'],
  'devices.revoke': ['name'],
  'devices.leave': [],
  'refused.unpaired': [],
  'refused.shutOut': [],
  'refused.host': [],
  'refused.otherSite': [],
  'refused.tooMuch': [],
  'refused.gone': [],
  'refused.unavailable': [],
  'refused.busy': [],
  'refused.noLog': [],
} as const

const words = readPrompts(prompts, schema)

/** A sentence of the doors, its placeholders filled. */
export const say = checkedSayer(prompts, words.sentences, CHECKING && needs)
