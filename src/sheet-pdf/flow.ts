/** Something that is placed on a page in one piece, or in as few as its page allows. */
export type Block = {
  /** Points. */
  height: number
  /** Free space above it, points; none at the top of a page. */
  before?: number
  /** Stays on the page of the block after it. */
  keepsWithNext?: boolean
  draw(x: number, y: number): void
  /** What fits a height of its own, and the rest; needed only of what may be higher than a page. */
  split?(height: number): readonly [Block, Block] | undefined
}

/** Pages of which one is open: where their inside begins and ends, in points from the upper left corner. */
export type Pages = {
  top: number
  bottom: number
  left: number
  width: number
  document: { addPage(): unknown }
}

/** Fills pages from the top to the bottom. */
export class Flow {
  private y: number
  private isEmpty = true
  private readonly pages: Pages

  constructor(pages: Pages) {
    this.pages = pages
    this.y = pages.top
  }

  private get room(): number {
    return this.pages.bottom - this.y
  }

  private turn(): void {
    this.pages.document.addPage()
    this.y = this.pages.top
    this.isEmpty = true
  }

  private put(block: Block): void {
    const before = this.isEmpty ? 0 : (block.before ?? 0)
    block.draw(this.pages.left, this.y + before)
    this.y += before + block.height
    this.isEmpty = false
  }

  /**
   * Places blocks one under the other. A block goes to the next page rather than being cut, with what must stay
   * before it; only one that is higher than a page is divided.
   *
   * @param header drawn again at the top of each page that the blocks go on
   */
  add(blocks: readonly Block[], header?: Block): void {
    for (let at = 0; at < blocks.length; ) {
      const chain = chainAt(blocks, at)
      if (!this.isEmpty && heightOf(chain, false) > this.room + 0.01) {
        this.turn()
        if (header && at > 0) this.put(header)
      }
      for (const block of chain) this.putOrSplit(block)
      at += chain.length
    }
  }

  private putOrSplit(block: Block): void {
    let rest = block
    while ((this.isEmpty ? 0 : (rest.before ?? 0)) + rest.height > this.room + 0.01) {
      const parts = rest.split?.(this.room - (this.isEmpty ? 0 : (rest.before ?? 0)))
      if (!parts) {
        if (this.isEmpty) break
        this.turn()
        continue
      }
      this.put(parts[0])
      this.turn()
      rest = parts[1]
    }
    this.put(rest)
  }

  /** Places blocks where there is room after them for `next` too, which something else will draw. */
  addKeeping(blocks: readonly Block[], next: Block): void {
    if (!this.isEmpty && heightOf([...blocks, next], false) > this.room + 0.01) this.turn()
    for (const block of blocks) this.putOrSplit(block)
  }

  /**
   * Places blocks in two columns: each page is filled column by column, and what is left over is shared evenly.
   *
   * @param gap points between the columns
   */
  addInColumns(blocks: readonly Block[], gap: number): void {
    const whole = this.pages.bottom - this.pages.top
    let rest = blocks.flatMap((block) => divided(block, whole))
    while (rest.length > 0) {
      const first = rest[0] as Block
      if (!this.isEmpty && first.height + 1 > this.room) this.turn()
      const room = this.room
      const fits = twoColumns(rest, room)
      const placed = fits[0].length + fits[1].length
      const [left, right] = placed === rest.length ? balanced(rest, room) : placed > 0 ? fits : [[first], []]
      const { left: x } = this.pages
      const ends = [stack(left, x, this.y), stack(right, x + (this.pages.width + gap) / 2, this.y)]
      this.y = Math.max(...ends)
      this.isEmpty = false
      rest = rest.slice(left.length + right.length)
      if (rest.length > 0) this.turn()
    }
  }

  /** Blocks in two columns as one block, which no page divides. */
  sideBySide(blocks: readonly Block[], gap: number): Block {
    const [left, right] = balanced(blocks, heightOf(blocks, true) + 1)
    return {
      height: Math.max(heightOf(left, true), heightOf(right, true)),
      draw: (x, y) => {
        stack(left, x, y)
        stack(right, x + (this.pages.width + gap) / 2, y)
      },
    }
  }

  /** Free space, which the foot of a page swallows. */
  space(height: number): void {
    if (!this.isEmpty) this.y += height
  }
}

/** Draws blocks one under the other; returns where they end. */
function stack(blocks: readonly Block[], x: number, y: number): number {
  let end = y
  for (const [at, block] of blocks.entries()) {
    end += at === 0 ? 0 : (block.before ?? 0)
    block.draw(x, end)
    end += block.height
  }
  return end
}

/** A block, or its parts where it is higher than this. */
function divided(block: Block, height: number): Block[] {
  const parts = block.height > height ? block.split?.(height) : undefined
  return parts ? [parts[0], ...divided(parts[1], height)] : [block]
}

/** A block with all that it keeps with, up to and with the first that does not. */
function chainAt(blocks: readonly Block[], from: number): Block[] {
  const end = blocks.findIndex((block, at) => at >= from && !block.keepsWithNext)
  return blocks.slice(from, end < 0 ? blocks.length : end + 1)
}

const heightOf = (blocks: readonly Block[], isTop: boolean): number =>
  blocks.reduce((sum, { height, before = 0 }, at) => sum + height + (isTop && at === 0 ? 0 : before), 0)

/** The first blocks that fit a column of this height, no heading last. */
function column(blocks: readonly Block[], height: number): Block[] {
  let count = 0
  while (count < blocks.length && heightOf(blocks.slice(0, count + 1), true) <= height + 0.01) count++
  while (count > 0 && count < blocks.length && blocks[count - 1]?.keepsWithNext) count--
  return blocks.slice(0, count)
}

function twoColumns(blocks: readonly Block[], height: number): readonly [Block[], Block[]] {
  const left = column(blocks, height)
  return [left, column(blocks.slice(left.length), height)]
}

/** All blocks in two columns as low as can be. */
function balanced(blocks: readonly Block[], room: number): readonly [Block[], Block[]] {
  let [low, high] = [heightOf(blocks, true) / 2, room]
  while (high - low > 0.5) {
    const middle = (low + high) / 2
    const [left, right] = twoColumns(blocks, middle)
    if (left.length + right.length === blocks.length) high = middle
    else low = middle
  }
  return twoColumns(blocks, high)
}
