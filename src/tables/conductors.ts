import * as z from 'zod/mini'
import data from '../../data/conductors.json'
import { sourceId } from './sources'

const positive = z.number().check(z.positive())

const AwgRow = z.strictObject({
  gauge: z.int().check(z.nonnegative()),
  /** Null where NEC chapter 9 table 8 has no row: the resistance then follows from the diameter. */
  ohmPer1000Ft: z.nullable(z.strictObject({ solid: positive, stranded: positive })),
  resistanceSource: sourceId,
  overcurrentA: positive,
  limitedSupplyOnly: z.boolean(),
  source: sourceId,
})

const Mm2Row = z.strictObject({
  areaMm2: positive,
  ohmPerKm: z.strictObject({ solidOrStranded: positive, flexible: positive }),
  resistanceSource: sourceId,
  capacityA: positive,
  flexibleOnly: z.boolean(),
  source: sourceId,
})

const Conductors = z.strictObject({
  awg: z.array(AwgRow).check(z.minLength(1)),
  mm2: z.array(Mm2Row).check(z.minLength(1)),
  copper: z.strictObject({ ohmMm2PerM: positive, perKelvin: positive, atC: z.number(), source: sourceId }),
  tableEight: z.strictObject({ perKelvin: positive, atC: z.number(), source: sourceId }),
  strandingPercent: z.strictObject({ value: positive, source: sourceId }),
  continuousPercent: z.strictObject({ value: positive.check(z.lte(100)), source: sourceId }),
})

/** Resistance and capacity of copper conductors, thinnest first, with the copper they are made of. */
export const conductors = Conductors.parse(data)
