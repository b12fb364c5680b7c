import { z } from 'zod'
import jobs from '../../prompts/en/jobs.yaml'
import { checkSentences, readPrompts, sayer } from '../questions/common/words'

/** Every sentence of a job's pages, and what each is filled with. */
const needs = {
  jobs: [],
  begin: [],
  name: [],
  nameExample: [],
  place: [],
  notes: [],
  none: [],
  entries: ['count'],
  touched: ['when'],
  older: [],
  bringIn: [],
  file: [],
  bringInDo: [],
  thread: [],
  board: [],
  facts: [],
  sheet: [],
  share: [],
  everywhere: [],
  forTheSheet: [],
  takeOut: [],
  describe: [],
  state: [],
  stateOpen: [],
  stateDone: [],
  stateArchived: [],
  save: [],
  about: [],
  wholeJob: [],
  newPart: [],
  partName: [],
  partExample: [],
  asked: ['when', 'version'],
  formFilled: [],
  contradiction: ['label', 'known', 'where', 'said'],
  contradictionAt: ['where'],
  holdsNew: ['said'],
  holdsHere: ['said', 'where'],
  holdsKnown: ['known'],
  contested: ['label', 'values'],
  contestedHolds: ['value'],
  known: ['where'],
  nothingKnown: [],
  fromAnswer: ['said', 'when'],
  fromForm: ['when'],
  fromPerson: ['when'],
  fromImport: ['when'],
  history: [],
  withdrawn: ['when'],
  change: [],
  forget: [],
  tell: [],
  tellWhat: [],
  tellValue: [],
  tellValueHint: [],
  tellDo: [],
  asRows: [],
  inJob: ['name', 'where'],
  keep: [],
  leave: [],
  filled: ['facts'],
  unreadable: ['message'],
  noSuchFact: [],
  noJob: [],
  nameMissing: [],
  partMissing: [],
  fileUnreadable: [],
  noLog: [],
  nowKnown: ['label', 'value'],
  whatChanged: [],
  nothingChanged: [],
  'got.worse': ['before'],
  'got.better': ['before'],
  'got.new': [],
  'got.otherwise': ['count'],
  'got.gone': [],
  'count.holds': ['count'],
  'count.tight': ['count'],
  'count.fails': ['count'],
  'count.info': ['count'],
  'count.not-asked': ['count'],
  'state.holds': [],
  'state.tight': [],
  'state.fails': [],
  'state.info': [],
  'state.not-asked': [],
  boardEmpty: [],
  missing: ['fields'],
  crossings: [],
} as const

type Needs = typeof needs

const { sentences } = readPrompts(jobs, z.strictObject({ sentences: z.record(z.string(), z.string()) }))
checkSentences(jobs, sentences, needs)

const say = sayer(sentences)

/** A sentence of a job's pages with its placeholders filled. */
export const jobSay = <K extends keyof Needs>(
  key: K,
  ...values: Needs[K] extends readonly [] ? [] : [Record<Needs[K][number], string>]
): string => say(key, values[0] ?? {})

const date = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
  timeZone: 'UTC',
  timeZoneName: 'short',
})

/** A moment as it is read on a page; in UTC, since a sheet is read in other places than it was made in. */
export const moment = (at: string): string => date.format(new Date(at))
