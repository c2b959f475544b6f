/**
 * Coordinates of drill files. Without a decimal point their meaning depends on how many digits stand before and after it and on
 * which zeros were left out: METRIC or INCH, then LZ (leading zeros are there, trailing ones left out) or TZ (the other way round),
 * then perhaps a mask like 000.000. The machine's own formats are 000.000 mm and 00.0000 inch (IPC-NC-349; the two sources read
 * are public descriptions of it, the masks are from memory).
 */
import { type Findings, INCH } from './board-findings.ts'
import { drill } from './words-boards.ts'

/** What the user may say where the files do not. */
export interface DrillAnswers {
  readonly units?: 'mm' | 'inch' | undefined
  /** Which zeros were left out. */
  readonly suppressed?: 'leading' | 'trailing' | undefined
  /** Digits before and after the decimal point. */
  readonly digits?: readonly [number, number] | undefined
}

/** What the coordinates without a decimal point look like, over the whole file. */
export interface Seen {
  integers: number
  mostDigits: number
  fewestDigits: number
}

/** Looks at every coordinate before the first is read. */
export function lookAt(text: string): Seen {
  const seen: Seen = { integers: 0, mostDigits: 0, fewestDigits: Infinity }
  for (const line of text.split('\n')) {
    const code = line.trimStart()
    if (code.startsWith(';') || /^M47/.test(code)) continue
    for (const m of code.matchAll(/[XYAIJ][+-]?(\d+)(?![\d.])/g)) {
      // A bare 0 is 0 in every format.
      if (/^0+$/.test(m[1]!)) continue
      seen.integers++
      seen.mostDigits = Math.max(seen.mostDigits, m[1]!.length)
      seen.fewestDigits = Math.min(seen.fewestDigits, m[1]!.length)
    }
  }
  return seen
}

export class DrillNumbers {
  /** mm a unit, once it is known. */
  unit: number | undefined
  suppressed: 'leading' | 'trailing' | undefined
  digits: readonly [number, number] | undefined
  private readonly told = new Set<string>()

  constructor(
    private readonly findings: Findings,
    private readonly answers: DrillAnswers,
    private readonly seen: Seen,
  ) {}

  /** mm. A problem is told once; the value is then 0. */
  coordinate(text: string, line: number): number {
    const unit = this.scale(line)
    if (text.includes('.')) return Number(text) * unit
    const digits = text.replace(/^[+-]/, '')
    if (/^0*$/.test(digits)) return 0
    const [whole, part] = this.form(line)
    const total = whole + part
    if (digits.length > total) {
      const found = drill.tooLong(text, digits.length)
      this.once(line, 'digits', found, drill.atMostDigits(whole, part))
      return 0
    }
    let padded = digits
    if (digits.length < total) {
      const left = this.leftOut(line, total)
      if (left === undefined) return 0
      padded = left === 'leading' ? digits.padStart(total, '0') : digits.padEnd(total, '0')
    }
    return (text.startsWith('-') ? -1 : 1) * Number(padded) * 10 ** -part * unit
  }

  scale(line: number): number {
    const unit = this.unit ?? (this.answers.units === undefined ? undefined : this.answers.units === 'mm' ? 1 : INCH)
    if (unit !== undefined) return unit
    this.once(line, 'units', drill.noUnit, drill.sayUnit)
    return 1
  }

  private form(line: number): readonly [number, number] {
    const stated = this.digits ?? this.answers.digits
    if (stated !== undefined) return stated
    const inch = this.scale(line) !== 1
    const machine = inch ? ([2, 4] as const) : ([3, 3] as const)
    if (this.seen.mostDigits <= 6) {
      this.findings.assume(drill.machineFormat(this.findings.file, inch))
    }
    return machine
  }

  private leftOut(line: number, total: number): 'leading' | 'trailing' | undefined {
    const left = this.suppressed ?? this.answers.suppressed
    if (left === undefined) {
      const { fewestDigits: few, mostDigits: most } = this.seen
      const range = drill.zerosUnknown(few, most)
      this.once(line, 'suppressed', range, drill.sayZeros(total))
    }
    return left
  }

  private once(line: number, path: string, found: string, expected: string): void {
    if (this.told.has(path)) return
    this.told.add(path)
    this.findings.problem(line, path, found, expected)
  }
}
