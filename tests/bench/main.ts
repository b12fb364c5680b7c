import { benchFuzz } from './fuzz'
import { benchJobs } from './jobs'
import { benchLoad } from './load'
import type { Measured } from './measured'
import { benchPhone } from './phone'
import { benchPhoneDrill } from './phone-drill'
import { benchPhoneSize } from './phone-size'
import { benchQuestionsApi } from './questions-api'
import { benchTapeNetwork } from './tape-network'
import { benchUnderstanding } from './understanding'

const benches: Record<string, () => Promise<Measured[]>> = {
  'tape-network': benchTapeNetwork,
  'questions-api': benchQuestionsApi,
  understanding: benchUnderstanding,
  jobs: benchJobs,
  phone: benchPhone,
  'phone-size': benchPhoneSize,
  'phone-drill': benchPhoneDrill,
  load: benchLoad,
  fuzz: benchFuzz,
}

const wanted = process.argv.slice(2)
for (const [name, bench] of Object.entries(benches)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue
  console.info(name)
  for (const { name: what, ratio, target, is } of await bench()) {
    const met = is === 'at most' ? ratio <= target : ratio >= target
    console.info(`  ${met ? 'met   ' : 'MISSED'} ${what}: ${ratio.toPrecision(3)} (${is} ${target})`)
  }
}
