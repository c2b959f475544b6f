/**
 * Finding a part by what people call it and by what they can measure: words (trade words among them, small typing mistakes forgiven),
 * `65x30`, `400 contacts`, `4 holes`. Every word of a question must be met; where none meets all, those come that meet most.
 */
import { nearest } from '../../footprints/problems.ts'
import { type FootprintFile, kindOf } from '../../footprints/schema.ts'
import { type Meant, type Wanted, wantedIn } from './part-question.ts'

export interface Hit {
  readonly footprint: FootprintFile
  /** Whether all of the question is met. */
  readonly whole: boolean
}

/** Words that people use for what a name calls otherwise. Common practice, no source. */
const SYNONYMS: Readonly<Record<string, readonly string[]>> = {
  accu: ['pack', 'lithium'],
  accumulator: ['pack', 'lithium'],
  batteries: ['pack', 'cells', 'battery', 'holder'],
  battery: ['pack', 'cells', 'holder'],
  beeper: ['buzzer'],
  bluetooth: ['radio'],
  buck: ['regulator'],
  cell: ['cells', 'pack'],
  converter: ['regulator'],
  distance: ['ultrasonic', 'infrared'],
  full: ['830'],
  gimbal: ['pan-tilt'],
  gripper: ['arm'],
  gyro: ['sensor'],
  hbridge: ['driver'],
  'h-bridge': ['driver'],
  half: ['400'],
  hygrometer: ['humidity'],
  ir: ['infrared'],
  lcd: ['display'],
  led: ['lamp'],
  light: ['lamp'],
  lipo: ['lithium'],
  lora: ['radio'],
  manipulator: ['arm'],
  mcu: ['controller'],
  microcontroller: ['controller'],
  mini: ['170'],
  oled: ['display'],
  pantilt: ['pan-tilt'],
  pinstrip: ['header'],
  piezo: ['buzzer'],
  protoboard: ['breadboard'],
  rangefinder: ['ultrasonic', 'infrared'],
  sbc: ['single-board'],
  scanner: ['reader'],
  screen: ['display'],
  servo: ['pan-tilt', 'servos'],
  shield: ['add-on'],
  solderless: ['breadboard'],
  sonar: ['ultrasonic'],
  temperature: ['temperature', 'humidity'],
  toggle: ['switch'],
  turret: ['pan-tilt'],
  wifi: ['radio'],
  wireless: ['radio'],
}

const wordsIn = (text: string): string[] =>
  text
    .toLowerCase()
    .split(/[^\p{L}\p{N}.-]+/u)
    .flatMap((w) => (w.includes('-') ? [w, ...w.split('-')] : [w]))
    .filter((w) => w !== '' && w !== '-')

interface Known {
  readonly footprint: FootprintFile
  readonly words: ReadonlySet<string>
}

/** Tie points of a part. */
export const contactsOf = (f: FootprintFile): number =>
  (f.breadboard?.blocks ?? []).reduce((sum, b) => sum + b.columns * b.rows, 0)

export const holesOf = (f: FootprintFile): number =>
  f.mount.kind === 'screw' || f.mount.kind === 'drop-in' ? (f.mount.holes ?? []).length : 0

const countOf = (f: FootprintFile, of: Extract<Wanted, { kind: 'count' }>['of']): number =>
  of === 'contacts'
    ? contactsOf(f)
    : of === 'holes'
      ? holesOf(f)
      : of === 'pins'
        ? (f.plug?.pins ?? []).length
        : (f.terminals ?? []).length

/** How far a measured side may be off the part's: a tenth, and 3 mm at least, for people measure over plugs and edges. */
const slack = (side: number): number => Math.max(NEAR, side / 10)
const NEAR = 3

/** The nearer to the limit, the better; never worse than half. */
const bounded = (value: number, limit: number, meant: Meant): number | undefined => {
  const up = meant === 'least' || meant === 'above'
  if (up ? value < limit : value > limit) return undefined
  if (value === limit && (meant === 'above' || meant === 'below')) return undefined
  return 0.5 + (0.5 * Math.min(value, limit)) / Math.max(value, limit, 1e-9)
}

/** 0 to 1; undefined: not met. */
function met(known: Known, wanted: Wanted, mended: (word: string) => string | undefined): number | undefined {
  const { footprint: f, words } = known
  switch (wanted.kind) {
    case 'word':
      return metByWord(words, wanted.text, mended)
    case 'count': {
      const n = countOf(f, wanted.of)
      return wanted.meant === 'itself' ? (n === wanted.n ? 1 : undefined) : bounded(n, wanted.n, wanted.meant)
    }
    case 'mass': {
      const mass = f.mass ?? 0
      if (mass === 0) return undefined
      if (wanted.meant !== 'itself') return bounded(mass, wanted.grams, wanted.meant)
      const off = Math.abs(mass - wanted.grams) / Math.max(1, wanted.grams / 10)
      return off <= 1 ? 1 - off / 2 : undefined
    }
    case 'side': {
      const { width, depth } = f.body
      if (wanted.meant !== 'itself') return bounded(Math.max(width, depth), wanted.mm, wanted.meant)
      const off = Math.min(Math.abs(width - wanted.mm), Math.abs(depth - wanted.mm)) / NEAR
      return off <= 1 ? 1 - off / 2 : undefined
    }
    case 'number': {
      if (contactsOf(f) === wanted.n || (f.plug?.pins ?? []).length === wanted.n) return 1
      if (words.has(wanted.text) || words.has(String(wanted.n))) return 0.9
      const off = Math.min(Math.abs(f.body.width - wanted.n), Math.abs(f.body.depth - wanted.n))
      // A number alone says less than a size, so it must be nearer.
      return off <= NEAR ? 0.7 - off / NEAR / 4 : undefined
    }
    case 'size': {
      // `2x8` is a name among headers.
      if (words.has(wanted.text)) return 1
      const [a = 0, b = 0, c] = wanted.sides
      const off = (x: number, y: number): number =>
        Math.max(Math.abs(f.body.width - x) / slack(x), Math.abs(f.body.depth - y) / slack(y))
      const plan = Math.min(off(a, b), off(b, a))
      const worst = c === undefined ? plan : Math.max(plan, Math.abs(f.body.height - c) / slack(c))
      return worst <= 1 ? 1 - worst / 2 : undefined
    }
  }
}

function metByWord(words: ReadonlySet<string>, text: string, mended: (word: string) => string | undefined) {
  const has = (word: string): number | undefined => {
    if (words.has(word)) return 1
    for (const w of words) if (w.startsWith(word)) return 0.8
    return undefined
  }
  const straight = has(text) ?? has(text.replace(/s$/, ''))
  if (straight !== undefined) return straight
  const also = Object.hasOwn(SYNONYMS, text) ? SYNONYMS[text]! : []
  if (also.some((w) => words.has(w))) return 0.7
  const right = mended(text)
  if (right === undefined) return undefined
  if (words.has(right)) return 0.5
  return (Object.hasOwn(SYNONYMS, right) ? SYNONYMS[right]! : []).some((w) => words.has(w)) ? 0.4 : undefined
}

/** `bread board` and `h bridge` as they are spelt here, in one word. */
function together(wanted: readonly Wanted[], spelt: ReadonlySet<string>): Wanted[] {
  const out: Wanted[] = []
  for (const one of wanted) {
    const before = out.at(-1)
    const joined =
      before?.kind === 'word' && one.kind === 'word'
        ? [`${before.text}${one.text}`, `${before.text}-${one.text}`].find((w) => spelt.has(w))
        : undefined
    if (joined === undefined) out.push(one)
    else out[out.length - 1] = { kind: 'word', text: joined }
  }
  return out
}

/**
 * The parts that a question means, best first; an empty question means all, by kind and name. `parts` in the order of preference among
 * equals, so a project's own come first.
 */
export function findFootprints(parts: Iterable<FootprintFile>, question: string, most = 40): readonly Hit[] {
  const known = [...parts].map((footprint): Known => {
    const said = `${footprint.name ?? ''} ${footprint.id} ${kindOf(footprint)} ${footprint.mount.kind}`
    return { footprint, words: new Set(wordsIn(said)) }
  })
  const spelt = new Set([...known.flatMap((k) => [...k.words]), ...Object.keys(SYNONYMS)])
  const wanted = together(wantedIn(question), spelt)
  if (wanted.length === 0)
    return known
      .slice()
      .sort((a, b) => order(a.footprint).localeCompare(order(b.footprint)))
      .map(({ footprint }) => ({ footprint, whole: true }))
  const vocabulary = [...spelt].filter((w) => w.length >= 4)
  const repairs = new Map<string, string | undefined>()
  const mended = (word: string): string | undefined => {
    if (word.length < 4) return undefined
    if (!repairs.has(word)) repairs.set(word, nearest(word, vocabulary))
    return repairs.get(word)
  }
  const scored = known.map((k, index) => {
    const scores = wanted.map((w) => met(k, w, mended))
    const hits = scores.filter((s) => s !== undefined)
    return { footprint: k.footprint, index, hits: hits.length, score: hits.reduce((sum, s) => sum + s, 0) }
  })
  const best = Math.max(0, ...scored.map((s) => s.hits))
  return scored
    .filter((s) => s.hits === best && best > 0)
    .sort((a, b) => b.score - a.score || a.index - b.index)
    .slice(0, most)
    .map(({ footprint }) => ({ footprint, whole: best === wanted.length }))
}

const KINDS = ['board', 'breadboard', 'pack', 'head', 'sensor', 'part']
const order = (f: FootprintFile): string => `${KINDS.indexOf(kindOf(f))} ${f.name ?? f.id}`
