/**
 * What somebody asks for who looks for a part: words, `65x30`, `1.85 in`, `44 g`, `4 holes`, `over 400 contacts`. Lengths are taken as they
 * are typed everywhere else.
 */
import { readLength } from './lengths.ts'

type Counted = 'contacts' | 'holes' | 'pins' | 'terminals'
/** Whether a number is meant itself, or as a limit, which counts too or not. */
export type Meant = 'itself' | 'least' | 'above' | 'most' | 'below'

export type Wanted =
  | { readonly kind: 'word'; readonly text: string }
  /** mm, in the order typed; two or three. */
  | { readonly kind: 'size'; readonly sides: readonly number[]; readonly text: string }
  /** mm, of one side: any, or the longest where it is a limit. */
  | { readonly kind: 'side'; readonly mm: number; readonly meant: Meant }
  | { readonly kind: 'mass'; readonly grams: number; readonly meant: Meant }
  | { readonly kind: 'count'; readonly of: Counted; readonly n: number; readonly meant: Meant }
  /** A bare number: a count of contacts or pins, a side, or part of the name. */
  | { readonly kind: 'number'; readonly n: number; readonly text: string }

const COUNTS: Readonly<Record<string, Counted>> = {
  contact: 'contacts',
  contacts: 'contacts',
  point: 'contacts',
  points: 'contacts',
  tie: 'contacts',
  hole: 'holes',
  holes: 'holes',
  screw: 'holes',
  screws: 'holes',
  pin: 'pins',
  pins: 'pins',
  terminal: 'terminals',
  terminals: 'terminals',
}

const NUMBERS = [
  'zero',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]

const MEANT: Readonly<Record<string, Meant>> = {
  '>': 'above',
  '≥': 'least',
  '>=': 'least',
  over: 'above',
  above: 'above',
  more: 'above',
  least: 'least',
  '<': 'below',
  '≤': 'most',
  '<=': 'most',
  under: 'below',
  below: 'below',
  less: 'below',
  most: 'most',
}

const AMOUNT = String.raw`(?:\d+(?:[.,]\d+)?(?:[ -]\d+\/\d+|\/\d+)?[½¼¾]?|[½¼¾])`
const UNIT = `(?:mm|cm|inches|inch|in|″|”|")`
const LENGTH = String.raw`${AMOUNT}\s*${UNIT}?`
const SIZE = new RegExp(String.raw`(${LENGTH})\s*(?:x|×|\*|by)\s*(${LENGTH})(?:\s*(?:x|×|\*|by)\s*(${LENGTH}))?`, 'gi')
const HOW = String.raw`(?:(>=?|<=?|≥|≤|\b(?:over|above|more than|at least|under|below|less than|at most))\s*)?`
/** One length by itself; only with its unit, for a number alone may count something. */
const SIDE = new RegExp(String.raw`${HOW}(?<![\p{L}\d.,])(${AMOUNT}\s*${UNIT})(?![\p{L}\d])`, 'giu')
const MASS = new RegExp(String.raw`${HOW}(?<![\p{L}\d.,])(\d+(?:[.,]\d+)?)\s*(g|grams?|kg)(?![\p{L}\d])`, 'giu')
/** Words that say nothing about a part. */
const FILLERS = new Set(
  (
    'a an the with and of for to at than mm points tie size sized long wide deep high tall large robot part ' +
    'on off over above more least under below less most'
  ).split(' '),
)

const meantBy = (how: string | undefined): Meant => {
  const word = how
    ?.trim()
    .toLowerCase()
    .split(' ')
    .at(how.startsWith('at') ? -1 : 0)
  return (word && Object.hasOwn(MEANT, word) && MEANT[word]) || 'itself'
}

/** What a question asks for, part by part. */
export function wantedIn(question: string): Wanted[] {
  const wanted: Wanted[] = []
  const rest = question
    .slice(0, 200)
    .replace(SIZE, (_, ...groups: (string | undefined)[]) => {
      const typed = groups.slice(0, 3).filter((t): t is string => typeof t === 'string')
      // A unit that stands once, at the end, is meant for all.
      const unit = new RegExp(String.raw`(${UNIT})\s*$`, 'i').exec(typed.at(-1) ?? '')?.[1] ?? ''
      const sides = typed.map((t) => readLength(/[a-z"″”]\s*$/i.test(t) ? t : `${t}${unit}`))
      const text = typed.join('x').toLowerCase().replace(/\s/g, '')
      wanted.push({ kind: 'size', sides: sides.flatMap((s) => (s.ok ? [s.mm] : [])), text })
      return ' '
    })
    .replace(SIDE, (whole: string, how: string | undefined, typed: string) => {
      const read = readLength(typed)
      if (!read.ok) return whole
      wanted.push({ kind: 'side', mm: read.mm, meant: meantBy(how) })
      return ' '
    })
    .replace(MASS, (_: string, how: string | undefined, typed: string, unit: string) => {
      const grams = Number(typed.replace(',', '.')) * (/^kg$/i.test(unit) ? 1000 : 1)
      wanted.push({ kind: 'mass', grams, meant: meantBy(how) })
      return ' '
    })
  const tokens = rest
    .toLowerCase()
    .split(/[\s,;/()×]+/)
    .filter((t) => t !== '')
  for (let k = 0; k < tokens.length; k++) {
    const token = tokens[k]!
    const next = tokens[k + 1]
    const of = next === undefined || !Object.hasOwn(COUNTS, next) ? undefined : COUNTS[next]
    const spelt = NUMBERS.indexOf(token)
    const n = /^\d+(?:\.\d+)?$/.test(token) ? Number(token) : spelt >= 0 ? spelt : undefined
    const before = tokens[k - 1] === 'than' ? tokens[k - 2] : tokens[k - 1]
    if (n !== undefined && of) {
      const meant = (before !== undefined && Object.hasOwn(MEANT, before) && MEANT[before]) || 'itself'
      wanted.push({ kind: 'count', of, n, meant })
      k++
    } else if (n !== undefined) wanted.push({ kind: 'number', n, text: token })
    else if (!FILLERS.has(token) && /[\p{L}\p{N}]/u.test(token)) wanted.push({ kind: 'word', text: token })
  }
  return wanted
}
