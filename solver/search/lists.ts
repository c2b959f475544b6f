/** Many growing lists of whole numbers in one array: most stay short, and there can be a million. */
import { grow } from './domains.ts'

/** What a new list has room for, in entries. */
const ROOM = 2

export class Lists {
  /** Whole numbers in an entry. */
  private readonly width: number
  /** All entries of all lists, each list's behind one another. */
  items = new Int32Array(1 << 10)
  private top = 0
  private lists = 1
  /** By key: its list; 0 where nothing was ever put there, less than 0 where it is known to be empty now. */
  listOf = new Int32Array(1 << 10)
  // by list: where it begins in `items`, where it ends, how far it may go there
  start = new Int32Array(1 << 8)
  end = new Int32Array(1 << 8)
  private most = new Int32Array(1 << 8)

  constructor(width: number) {
    this.width = width
  }

  /** Keys are below `count`. */
  reserve(count: number): void {
    while (count > this.listOf.length) this.listOf = grow(this.listOf)
  }

  /** Makes room for one more entry of this key: where in `items` it is to be written. */
  add(key: number): number {
    const { width } = this
    let list = this.listOf[key]!
    if (list === 0) {
      list = this.lists++
      if (list >= this.start.length) {
        this.start = grow(this.start)
        this.end = grow(this.end)
        this.most = grow(this.most)
      }
      this.listOf[key] = list
      this.move(list, ROOM * width)
    } else if (list < 0) {
      list = -list
      this.listOf[key] = list
    }
    const at = this.end[list]!
    if (at === this.most[list]!) {
      this.move(list, 2 * (at - this.start[list]!))
      return this.add(key)
    }
    this.end[list] = at + width
    return at
  }

  /** This key's entries end here (in `items`) from now on. */
  cut(key: number, end: number): void {
    const list = this.listOf[key]!
    this.end[list] = end
    if (end === this.start[list]) this.listOf[key] = -list
  }

  /** Gives each entry another first number, or drops it where that is under 0; room that lists have left behind is given back. */
  renumber(of: (first: number) => number): void {
    const { width, items: old } = this
    const items = new Int32Array(old.length)
    this.top = 0
    for (let list = 1; list < this.lists; list++) {
      const from = this.start[list]!
      const end = this.end[list]!
      const to = this.top
      let n = to
      for (let i = from; i < end; i += width) {
        const first = of(old[i]!)
        if (first < 0) continue
        items[n] = first
        for (let k = 1; k < width; k++) items[n + k] = old[i + k]!
        n += width
      }
      this.top += this.most[list]! - from
      this.start[list] = to
      this.end[list] = n
      this.most[list] = this.top
    }
    this.items = items
  }

  /** To the end, where there is so much room. */
  private move(list: number, room: number): void {
    const to = this.top
    this.top += room
    while (this.top > this.items.length) this.items = grow(this.items)
    const from = this.start[list]!
    const end = this.end[list]!
    this.items.copyWithin(to, from, end)
    this.start[list] = to
    this.end[list] = to + end - from
    this.most[list] = to + room
  }
}
