/** A number to twelve digits, without what adding and multiplying leaves behind them. */
export const clean = (value: number): number => Number(value.toPrecision(12))
