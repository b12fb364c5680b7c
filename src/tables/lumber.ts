import * as z from 'zod/mini'
import data from '../../data/lumber.json'
import { sourceId } from './sources'

const Lumber = z.strictObject({
  members: z
    .array(z.strictObject({ member: z.string(), depthIn: z.number().check(z.positive()) }))
    .check(z.minLength(1)),
  source: sourceId,
})

/** Nominal members and their dressed depths, shallowest first. */
export const lumber = Lumber.parse(data)

/**
 * The actual depth of a nominal member, m.
 *
 * @param member its nominal size, `2x4` to `2x12`
 * @returns `undefined` for a size that is not in the table
 *
 * @example memberDepthM('2x10') // 0.23495, which is 9.25 in
 */
export function memberDepthM(member: string): number | undefined {
  const row = lumber.members.find((each) => each.member === member)
  return row && row.depthIn * 0.0254
}
