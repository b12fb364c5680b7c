import * as z from 'zod/mini'
import alongTheTape from '../../prompts/en/along-the-tape.yaml'
import boxFill from '../../prompts/en/box-fill.yaml'
import circuitRoom from '../../prompts/en/circuit-room.yaml'
import cutPlan from '../../prompts/en/cut-plan.yaml'
import dimmerFit from '../../prompts/en/dimmer-fit.yaml'
import driverSize from '../../prompts/en/driver-size.yaml'
import feedGauge from '../../prompts/en/feed-gauge.yaml'
import framingHole from '../../prompts/en/framing-hole.yaml'
import holeFit from '../../prompts/en/hole-fit.yaml'
import meterCheck from '../../prompts/en/meter-check.yaml'
import pullPlan from '../../prompts/en/pull-plan.yaml'
import runningCost from '../../prompts/en/running-cost.yaml'
import sharedNeutral from '../../prompts/en/shared-neutral.yaml'
import steadyLight from '../../prompts/en/steady-light.yaml'
import tapeReach from '../../prompts/en/tape-reach.yaml'
import taskLight from '../../prompts/en/task-light.yaml'
import general from '../../prompts/en/understanding.yaml'
import { faultyPrompts, fieldWords, type PromptsFile, readPrompts } from '../questions/common/words'

const sayings = z.array(z.string())

/** How people say one input, or one figure that they claim. */
const RoleSchema = z.strictObject({
  /** It may take a quantity of its kind that nothing in the line says more about. */
  alone: z._default(z.boolean(), false),
  /** The unit of a number said without one, where a phrase says that it is this. */
  bare: z.optional(z.string()),
  /** Which numbers may stand without a unit: from the first to the second, or one of several. */
  bareRange: z.optional(z.tuple([z.number(), z.number()])),
  bareOnly: z._default(z.array(z.number()), []),
  /** "three 20 watt lengths" are 60 W. */
  times: z._default(z.boolean(), false),
  /** What it is called: "NAME is @", "@ of NAME". */
  names: z._default(sayings, []),
  /** What it is called where it is taken away: "scrap the reading at the start". */
  called: z._default(sayings, []),
  /** Phrases that say what `@` is; `maybe` are weaker, `never` say what it is not. */
  said: z._default(sayings, []),
  maybe: z._default(sayings, []),
  never: z._default(sayings, []),
  /** Phrases that say how much of it is left over: "with 20 % to spare" is 80 %. */
  rest: z._default(sayings, []),
  /** Phrases that make a claim by themselves, without "he says". */
  asked: z._default(sayings, []),
  /** The like, but weak: no number without a unit is taken for it. */
  maybeAsked: z._default(sayings, []),
  /** It means something only where another choice is this. */
  onlyWhen: z._default(z.record(z.string(), z.string()), {}),
  /** The input whose quantity was counted: "one 100 ft spool" claims one spool. */
  countOf: z.optional(z.string()),
  /** Another input that takes what was said, where a choice or a count is this. */
  instead: z.optional(z.strictObject({ when: z.record(z.string(), z.string()), field: z.string() })),
  /** The choice that goes without saying: said beside another, the other holds. */
  usual: z.optional(z.string()),
  /** Several lengths said as "16 plus 8" are one. */
  sum: z._default(z.boolean(), false),
  /** A list whose items may be said one by one, with nothing else about them. */
  many: z._default(z.boolean(), false),
  /** Words that speak of it: unread, they make a yes or no by their clause, or a question back. */
  about: z._default(sayings, []),
  /** What stands for a choice, a yes or a count without a number. */
  means: z._default(z.record(z.string(), sayings), {}),
})

const AskingSchema = z.strictObject({
  /** Phrases that ask this question, by how plainly they do. */
  ask: z.record(z.string().check(z.regex(/^-?\d+$/)), sayings),
  /** Quantities that ask it by being there together, with words that stand anywhere in the line. */
  signs: z._default(
    z.array(
      z.strictObject({
        points: z.number(),
        /** Kinds of quantity that must all be there; `power|current` is either. */
        has: sayings.check(z.minLength(1)),
        /** Kinds of which none may be there. */
        lacks: z._default(sayings, []),
        /** Phrases of which one must be there, if any are given. */
        said: z._default(sayings, []),
        /** Phrases of which none may be there. */
        unless: z._default(sayings, []),
      }),
    ),
    [],
  ),
  fields: z._default(z.record(z.string(), RoleSchema), {}),
  figures: z._default(z.record(z.string(), RoleSchema), {}),
  /** Groups of inputs of which a follow-up that gives one takes the others away: a notch instead of a hole. */
  exclusive: z._default(z.array(sayings), []),
  /** What is asked for first, where it is not the order of declaration. */
  first: z._default(sayings, []),
  /** Inputs that are needed although the question can do without them in other cases. */
  needs: z._default(
    z.array(
      z.strictObject({
        field: z.string(),
        /** Not when one of these is given. */
        unlessGiven: z._default(sayings, []),
        /** Only when, or not when, a choice is this. */
        when: z._default(z.record(z.string(), z.string()), {}),
        unless: z._default(z.record(z.string(), z.string()), {}),
      }),
    ),
    [],
  ),
})

export type RoleWords = z.infer<typeof RoleSchema>
export type Asking = z.infer<typeof AskingSchema>

/** How one question is asked, with its words for titles and for asking back. */
export type QuestionAsking = {
  asking: Asking
  title: string | undefined
  ask: Readonly<
    Record<string, { label?: string | undefined; ask?: string | undefined; suggest?: string | undefined }>
  >
  /** The labels of its figures. */
  figures: Readonly<Record<string, string>>
  prompts: PromptsFile
}

const FileSchema = z.looseObject({
  title: z.optional(z.string()),
  fields: z._default(z.record(z.string(), z.partial(fieldWords)), {}),
  figures: z._default(z.record(z.string(), z.string()), {}),
  asking: AskingSchema,
})

const files: Readonly<Record<string, PromptsFile>> = {
  'along-the-tape': alongTheTape,
  'box-fill': boxFill,
  'circuit-room': circuitRoom,
  'cut-plan': cutPlan,
  'dimmer-fit': dimmerFit,
  'driver-size': driverSize,
  'feed-gauge': feedGauge,
  'framing-hole': framingHole,
  'hole-fit': holeFit,
  'meter-check': meterCheck,
  'pull-plan': pullPlan,
  'running-cost': runningCost,
  'shared-neutral': sharedNeutral,
  'steady-light': steadyLight,
  'tape-reach': tapeReach,
  'task-light': taskLight,
}

function readAsking(prompts: PromptsFile): QuestionAsking {
  const { title, fields, figures, asking } = readPrompts(prompts, FileSchema)
  return { asking, title, ask: fields, figures, prompts }
}

/** How each question is asked, by its id. */
export const askings: Readonly<Record<string, QuestionAsking>> = Object.fromEntries(
  Object.entries(files).map(([id, prompts]) => [id, readAsking(prompts)]),
)

/** How the inputs that several questions have are said, by their name. */
export const sharedFields: Readonly<Record<string, RoleWords>> = readPrompts(
  general,
  z.looseObject({ fields: z.record(z.string(), RoleSchema) }),
).fields

/** A phrase that cannot be read stops the start, naming its file and line. */
export const faultyPhrase = (prompts: PromptsFile, path: string, fault: unknown): Error =>
  faultyPrompts(prompts, path, fault instanceof Error ? fault.message : String(fault))

export const generalPrompts: PromptsFile = general
