/**
 * Published worked examples, told apart by formula: what is given, what is printed and how finely, and what a known mistake would
 * give. `read`: read where `source` says; `memory`: not read.
 */
import { describe, expect, it } from 'vitest'

type Printed = number | readonly number[]

export interface Example {
  readonly id: string
  readonly formula: string
  readonly given: Readonly<Record<string, unknown>>
  readonly answer: Readonly<Record<string, Printed>>
  /** How far off an answer may be: how it was rounded, or what its source takes otherwise. */
  readonly within: Readonly<Record<string, Printed>>
  /** Amperes, where a net is asked for shares. */
  readonly amps?: number
  readonly source: string
  readonly status: 'read' | 'memory'
  /** The page prints `not`, and its own numbers give `answer`. */
  readonly misprint?: boolean
  readonly not?: Readonly<Record<string, Printed>>
  readonly why?: string
}

const list = (v: Printed): readonly number[] => (typeof v === 'number' ? [v] : v)

/** Describes one formula: `run` is ours, from what is given to what is printed. Three examples that were read, or more. */
export function hold<G>(
  all: readonly Example[],
  formula: string,
  run: (given: G, e: Example) => Record<string, Printed>,
) {
  const of = all.filter((e) => e.formula === formula)
  describe(formula, () => {
    it('has three published examples or more', () => {
      expect(of.filter((e) => e.status === 'read' && !e.misprint).length).toBeGreaterThanOrEqual(3)
      for (const e of of) expect(e.source.length, e.id).toBeGreaterThan(20)
    })
    it.each(of)('$id', (e) => {
      const got = run(e.given as G, e)
      for (const [key, answer] of Object.entries(e.answer)) {
        const ours = list(got[key]!)
        const within = list(e.within[key]!)
        expect(ours.length, key).toBe(list(answer).length)
        list(answer).forEach((printed, i) => {
          const off = Math.abs(ours[i]! - printed)
          expect(off, `${key}[${i}]: ${ours[i]} for ${printed}`).toBeLessThanOrEqual((within[i] ?? within[0])! + 1e-12)
        })
      }
      for (const [key, wrong] of Object.entries(e.not ?? {})) {
        const within = list(e.within[key]!)
        list(wrong).forEach((w, i) => {
          const off = Math.abs(list(got[key]!)[i]! - w)
          expect(off, `${key}[${i}] is not ${w}: ${e.why}`).toBeGreaterThan((within[i] ?? within[0])!)
        })
      }
    })
  })
}

/** Every example belongs to a formula that is held to it, and ids are told apart. */
export function allHeld(all: readonly Example[], formulas: readonly string[]) {
  it('leaves no example out', () => {
    expect([...new Set(all.map((e) => e.formula))].sort()).toEqual([...formulas].sort())
    expect(new Set(all.map((e) => e.id)).size).toBe(all.length)
    for (const e of all)
      if (e.misprint || e.why) expect([e.id, typeof e.not, typeof e.why]).toEqual([e.id, 'object', 'string'])
  })
}
