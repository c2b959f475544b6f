/**
 * A small JSON reader (RFC 8259) that knows where it is: it finds what is wrong by line and column, refuses names that
 * stand twice, and tells afterwards where given fields stand. Recursion is bounded by the 64 levels of contract §1.
 */
import type { Issue, Path } from '../../footprints/problems.ts'
import { clip } from '../../footprints/problems.ts'
import { got, wanted as right } from './words.ts'

export const MOST_LEVELS = 64
/** A file of 10 MB has room for five million numbers; no robot needs one million, and checking them takes too long. */
export const MOST_VALUES = 1_000_000

/** An issue of the text itself, with the offset it was found at. */
export interface TextIssue extends Issue {
  readonly offset: number
}

export interface ParsedText {
  /** Undefined where the text is no JSON. */
  readonly value: unknown
  readonly issues: readonly TextIssue[]
}

/** Fields to be found, as a tree of steps. */
interface Wanted {
  readonly steps: Map<string | number, Wanted>
  offset?: number
}

class Stop extends Error {}

class Reader {
  pos = 0
  values = 0
  readonly path: (string | number)[] = []
  readonly issues: TextIssue[] = []

  constructor(readonly text: string) {}

  stop(expected: string, found = this.here()): never {
    this.issues.push({ path: [...this.path], found, expected, offset: this.pos })
    throw new Stop()
  }

  /** What stands at the reader, for people. */
  here(): string {
    if (this.pos >= this.text.length) return got.end
    const word = /[\p{L}\p{N}_.+-]{1,24}|./suy
    word.lastIndex = this.pos
    return clip(JSON.stringify(word.exec(this.text)?.[0] ?? ''))
  }

  space(): number {
    let c = this.text.charCodeAt(this.pos)
    while (c === 32 || c === 10 || c === 13 || c === 9) c = this.text.charCodeAt(++this.pos)
    return c
  }

  document(wanted?: Wanted): unknown {
    const value = this.value(1, wanted)
    this.space()
    if (this.pos < this.text.length) this.stop(right.end)
    return value
  }

  value(level: number, wanted?: Wanted): unknown {
    const c = this.space()
    if (wanted !== undefined) wanted.offset = this.pos
    if (++this.values > MOST_VALUES) this.stop(right.atMostValues(MOST_VALUES), got.more)
    if (c === 123 || c === 91) {
      if (level > MOST_LEVELS) this.stop(right.atMostLevels(MOST_LEVELS), got.deeper)
      return c === 123 ? this.object(level, wanted) : this.list(level, wanted)
    }
    if (c === 34) return this.string()
    for (const [word, value] of WORDS) {
      if (this.text.startsWith(word, this.pos)) {
        this.pos += word.length
        return value
      }
    }
    return this.number()
  }

  object(level: number, wanted?: Wanted): object {
    const result: Record<string, unknown> = {}
    this.pos++
    if (this.space() === 125) {
      this.pos++
      return result
    }
    for (;;) {
      if (this.space() !== 34) this.stop(right.fieldName)
      const at = this.pos
      const key = this.string()
      if (this.space() !== 58) this.stop(right.colon(clip(JSON.stringify(key))))
      this.pos++
      this.path.push(key)
      if (Object.hasOwn(result, key)) {
        this.issues.push({
          path: [...this.path],
          found: got.sameField,
          expected: right.fieldOnce,
          offset: at,
        })
      }
      const value = this.value(level + 1, wanted?.steps.get(key))
      // Not by assignment: "__proto__" is a field like any other.
      if (key === '__proto__') {
        Object.defineProperty(result, key, { value, enumerable: true, writable: true, configurable: true })
      } else result[key] = value
      this.path.pop()
      const c = this.space()
      if (c !== 44 && c !== 125) this.stop(right.commaInObject)
      this.pos++
      if (c === 125) return result
      if (this.space() === 125) this.stop(right.anotherField)
    }
  }

  list(level: number, wanted?: Wanted): unknown[] {
    const result: unknown[] = []
    this.pos++
    if (this.space() === 93) {
      this.pos++
      return result
    }
    for (;;) {
      this.path.push(result.length)
      result.push(this.value(level + 1, wanted?.steps.get(result.length)))
      this.path.pop()
      const c = this.space()
      if (c !== 44 && c !== 93) this.stop(right.commaInList)
      this.pos++
      if (c === 93) return result
      if (this.space() === 93) this.stop(right.anotherValue)
    }
  }

  string(): string {
    const from = this.pos
    for (;;) {
      const c = this.text.charCodeAt(++this.pos)
      if (c === 34) break
      if (c === 92) {
        const known = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y
        known.lastIndex = this.pos
        if (!known.test(this.text)) this.stop(right.escape, got.unknownEscape)
        this.pos = known.lastIndex - 1
      } else if (Number.isNaN(c)) this.stop(right.quoteAtEnd)
      else if (c < 32) this.stop(right.quoteInLine, got.lineBreak)
    }
    this.pos++
    return JSON.parse(this.text.slice(from, this.pos)) as string
  }

  number(): number {
    const form = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.])/y
    form.lastIndex = this.pos
    const match = form.exec(this.text)
    if (match === null) this.stop(right.value)
    this.pos += match[0].length
    // No −0: it would not survive being written.
    return Number(match[0]) + 0
  }
}

const WORDS = [
  ['true', true],
  ['false', false],
  ['null', null],
] as const

/** JSON text to a value. Every name that stands twice is an issue; a syntax error is one and ends the reading. */
export function parseJson(text: string): ParsedText {
  const reader = new Reader(text)
  try {
    return { value: reader.document(), issues: reader.issues }
  } catch (e) {
    if (!(e instanceof Stop)) throw e
    return { value: undefined, issues: reader.issues }
  }
}

/** Where the fields stand in `text`, which has been parsed without a syntax error; for a missing field, what should hold it. */
export function locate(text: string, paths: readonly Path[]): number[] {
  const root: Wanted = { steps: new Map() }
  for (const path of paths) {
    let node = root
    for (const step of path) {
      let next = node.steps.get(step)
      if (next === undefined) {
        next = { steps: new Map() }
        node.steps.set(step, next)
      }
      node = next
    }
  }
  new Reader(text).document(root)
  return paths.map((path) => {
    let node: Wanted | undefined = root
    let offset = root.offset ?? 0
    for (const step of path) {
      node = node?.steps.get(step)
      if (node?.offset === undefined) break
      offset = node.offset
    }
    return offset
  })
}

/** Line and column, both from 1, of each offset. */
export function lineAndColumn(text: string): (offset: number) => { line: number; column: number } {
  const starts = [0]
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) starts.push(i + 1)
  return (offset) => {
    let lo = 0
    let hi = starts.length - 1
    while (lo < hi) {
      const mid = (lo + hi + 1) >> 1
      if (starts[mid]! <= offset) lo = mid
      else hi = mid - 1
    }
    return { line: lo + 1, column: offset - starts[lo]! + 1 }
  }
}
