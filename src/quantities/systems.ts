/** Whose rules the answer follows: the NEC (and IRC), or the IEC 60364 family. */
export type Rules = 'nec' | 'iec'

/** Which units a person reads and types: feet and inches, or metres. */
export type System = 'us' | 'metric'
