/**
 * A length as people type it: `165`, `165 mm`, `16,5 cm`, `6.5in`, `6 1/2"`, `6-1/2 in`, `½ in`. Comma and dot are both the decimal sign, so
 * there is no sign for thousands. Inches are 25.4 mm exactly (international yard and pound agreement, 1959).
 */
import { mm, toMm } from '../../solver/units.ts'
import { got, wanted } from './words.ts'

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in'

/** Limits in mm, both allowed. */
export interface LengthLimits {
  readonly least: number
  readonly most: number
}

export type TypedLength =
  /** `mm` is rounded to 0.001 as in files; `unit` is the one that was typed, or the one taken for granted. */
  | { readonly ok: true; readonly mm: number; readonly unit: LengthUnit; readonly unitTyped: boolean }
  | { readonly ok: false; readonly found: string; readonly expected: string }

const MM: Readonly<Record<LengthUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 }

const UNITS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'in',
  'in.': 'in',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  "''": 'in',
}

/** Longer than any length is typed; what is longer was pasted by mistake. */
const LONGEST = 60

/** Other signs for the same: typographic quotes, minus signs, narrow spaces, fractions in one sign (½ becomes 1/2). */
const plain = (text: string): string =>
  text
    .replace(/(\d?)([¼-¾⅐-⅞])/g, (_, digit: string, sign: string) => `${digit}${digit && ' '}${sign.normalize('NFKD')}`)
    .replaceAll('⁄', '/')
    .replace(/[″”“]/g, '"')
    .replace(/[′’]/g, "'")
    .replace(/[−–]/g, '-')
    .replace(/\s+/g, ' ')
    .trim()
    .toLowerCase()

const SIGNED = /^([+-]?) ?(.*)$/
const DECIMAL = /^(?:\d+(?:[.,]\d*)?|[.,]\d+)$/
const FRACTION = /^(?:(\d+)(?: |-| - ))?(\d+) ?\/ ?(\d+)$/

/** What was typed, in mm. `unit` is taken where none is typed; limits that are left out allow whatever a file allows (10 m either way). */
export function readLength(
  typed: string,
  limits: LengthLimits = { least: -10_000, most: 10_000 },
  unit: LengthUnit = 'mm',
): TypedLength {
  const fault = (expected: string): TypedLength => ({ ok: false, found: foundIn(typed), expected })
  if (typed.length > LONGEST) return fault(wanted.lengthLike)
  const text = plain(typed)
  if (text === '') return fault(wanted.lengthLike)
  const parts = /^(.*?) ?([a-zµ"'][a-zµ"'. ]*)?$/.exec(text)
  const [amount = '', unitText] = [parts?.[1] ?? text, parts?.[2]]
  const given = unitText === undefined ? unit : UNITS[unitText]
  if (!given) return fault(amount === '' ? wanted.lengthLike : wanted.unitBehind)
  const value = amountIn(amount)
  if (typeof value === 'string') return fault(value)
  const length = toMm(mm(value * MM[given]))
  if (length < limits.least || length > limits.most) return fault(within(limits, given))
  return { ok: true, mm: length === 0 ? 0 : length, unit: given, unitTyped: unitText !== undefined }
}

/** The number, or what was expected in its place. */
function amountIn(text: string): number | string {
  const [, sign = '', digits = ''] = SIGNED.exec(text) ?? []
  const way = sign === '-' ? -1 : 1
  if (DECIMAL.test(digits)) return way * Number(digits.replace(',', '.'))
  const [, whole, over, under] = FRACTION.exec(digits) ?? []
  if (over !== undefined && under !== undefined) {
    if (Number(under) === 0) return wanted.overSomething
    if (whole !== undefined && Number(over) >= Number(under)) return wanted.smallFraction
    return way * (Number(whole ?? 0) + Number(over) / Number(under))
  }
  if (/[.,].*[.,]/.test(digits) && /^[\d.,]+$/.test(digits)) return wanted.oneSign
  return wanted.lengthLike
}

const foundIn = (typed: string): string => {
  const text = typed.trim()
  if (text === '') return got.nothing
  return got.typed(text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text)
}

/** The limits in mm, and in inches too for whoever typed inches. */
function within({ least, most }: LengthLimits, unit: LengthUnit): string {
  const inches = (value: number): string => String(Math.round((value / 25.4) * 1000) / 1000)
  return wanted.range(lengthText(least), lengthText(most), unit === 'in' ? [inches(least), inches(most)] : undefined)
}

/** `165.1`: mm as they stand in a field, at most three decimals, a dot. */
export const lengthText = (value: number): string => String(toMm(mm(value)))
