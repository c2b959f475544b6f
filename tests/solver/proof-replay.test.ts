/** The replayer itself: small proofs by hand (each kind of constraint at its limit), and real ones that were tampered with. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Replay, replay } from '../../solver/proof/replay.ts'
import type { SolveResult } from '../../solver/result.ts'
import { randomDeck } from './oracle/decks.ts'
import { tiny } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'
import { proofOf, unproven } from './proof-kit.ts'

const wrong = (...lines: string[]): number => replay(lines).failures.length

describe('unit propagation', () => {
  it('finds what follows, and refuses what does not', () => {
    expect(wrong('g clause 1 2', 'g clause 1 -2', 'l 1 1')).toBe(0)
    expect(wrong('g clause 1 2', 'g clause 1 -2', 'l 1 2')).toBe(1)
    expect(wrong('g clause 1 2 3', 'g clause -1 4', 'g clause -2 4', 'g clause -3 4', 'l 1 4 5')).toBe(0)
    expect(wrong('g clause 1 2 3', 'g clause -1 4', 'g clause -2 4', 'l 1 4 5')).toBe(1)
  })

  it('sees one literal in two the same', () => {
    expect(wrong('g clause -1 -1', 'g clause 1 2', 'l 1 2')).toBe(0)
    expect(wrong('g clause -1 -1 3', 'g clause 1 2', 'l 1 2 3 3')).toBe(0)
    expect(wrong('g clause -1 -1 3', 'g clause 1 2', 'l 1 2')).toBe(1)
  })

  it('knows that v ≥ k+1 makes v ≥ k, and not the other way round', () => {
    expect(wrong('g clause 7.3', 'l 1 7.2')).toBe(0)
    expect(wrong('g clause 7.3', 'l 1 7.4')).toBe(1)
    expect(wrong('g clause -7.3', 'l 1 -7.4')).toBe(0)
    expect(wrong('g clause -7.3', 'l 1 -7.2')).toBe(1)
    // at least 5, or under 3, and not under 4: so at least 5, and so at least 4
    expect(wrong('g clause 7.5 -7.3', 'g clause 1 7.4', 'l 1 1 7.5')).toBe(0)
    expect(wrong('g clause 7.5 -7.3', 'g clause 1 7.2', 'l 1 1 7.5')).toBe(1)
  })

  it('forgets what it is told to, and deductions after the clause that rests on them', () => {
    const clauses = ['g clause 1 2 3', 'g clause 1 2 -3']
    expect(wrong(...clauses, 'l 1 1 2', 'l 2 1 2 9')).toBe(0)
    const said = ['g constraint 1 other Search', 'd 1 1 2 3']
    expect(wrong(...said, 'l 1 1 -2 -3', 'f 1', 'l 2 1 -2 -3')).toBe(1)
    expect(wrong(...said, 'l 1 5 -5', 'l 2 1 -2 -3')).toBe(1)
    expect(wrong('l 1 1 -1', 'f 2')).toBe(1)
  })

  it('holds a bound to its thresholds', () => {
    const asked = ['g threshold 8 wire-length 40', 'g threshold 9 balance 3', 'g clause -8 -9']
    expect(wrong(...asked, 'b balance 3 8 9')).toBe(0)
    expect(replay([...asked, 'b balance 3 8 9']).bounds).toEqual([
      { goal: 'balance', value: 3, under: [{ goal: 'wire-length', value: 40 }] },
    ])
    expect(wrong(...asked, 'b balance 3 9')).toBe(1)
    expect(wrong(...asked, 'b balance 4 8 9')).toBe(1)
    expect(wrong(...asked, 'b wire-length 40 9 8')).toBe(0)
    expect(wrong('g clause -8 -9', 'b balance 3 8 9')).toBe(1)
    expect(wrong('g clause 1', 'g clause -1', 'b none 0')).toBe(0)
    expect(wrong('g clause 1', 'b none 0')).toBe(1)
  })

  it('says that there is none only where nothing is asked for', () => {
    const asked = ['g threshold 1 wire-length 5', 'g clause -1']
    const why = 'line 3: asks for something, so it does not say that there is none: '
    expect(replay([...asked, 'b none 0 1'])).toMatchObject({ failures: [`${why}b none 0 1`], bounds: [] })
    // no threshold either, and no goal's value
    expect(replay([...asked, 'b none 0 7']).failures).toEqual([`${why}b none 0 7`])
    expect(wrong('g clause', 'b none 7')).toBe(1)
    expect(wrong('g clause', 'g threshold 1 none 0')).toBe(1)
    expect(wrong(...asked, 'b none 0')).toBe(1)
  })

  it('takes thresholds one by one, each by a variable of its own', () => {
    const asked = ['g threshold 1 wire-length 5', 'g clause -1']
    expect(wrong(...asked, 'g threshold 1 wire-length 500')).toBe(1)
    expect(replay([...asked, 'g threshold 1 wire-length 500', 'b wire-length 5 1']).bounds).toHaveLength(1)
    expect(wrong(...asked, 'g threshold 1 wire-length 500', 'b wire-length 500 1')).toBe(2)
    // of two that rule each other out, each would be refuted by the other
    expect(wrong('g threshold 1 wire-length 5', 'g threshold -1 balance 3')).toBe(1)
    expect(wrong('g threshold 1 wire-length 5', 'g threshold 1.1 balance 3')).toBe(1)
    expect(wrong('g threshold 7.3 wire-length 5')).toBe(1)
    // however its number is spelled: what refutes the one would refute the other
    expect(wrong(...asked, 'g threshold 01 balance 3', 'b balance 3 01')).toBe(2)
    expect(replay([...asked, 'b wire-length 5 01']).bounds).toHaveLength(1)
    // and a coordinate that stands too far to the left asks for nothing
    expect(wrong('g axis 1 0 10 10', 'g threshold 1 wire-length 5')).toBe(1)
    expect(wrong('g threshold 1 wire-length 5', 'g axis 1 0 10 10')).toBe(1)
    // nor is a goal bounded by what it is already held to
    expect(wrong(...asked, 'g threshold 2 wire-length 500', 'b wire-length 500 1 2')).toBe(1)
  })
})

describe('what was not given, or not so', () => {
  it('is not taken on trust', () => {
    const r = replay(['d 99 F', 'b none 0'])
    expect(r.failures).toEqual([
      'line 1: names a constraint that was not given: d 99 F',
      'line 2: is not refuted: b none 0',
    ])
    expect([r.trusted.size, r.bounds.length]).toEqual([0, 0])
    expect(wrong('d 99 5', 'l 1 5')).toBe(2)
    expect(wrong('g constraint 1 other Search', 'd 1 F', 'b none 0')).toBe(0)
    expect(wrong('g constraint 1 searching Search')).toBe(1)
    expect(wrong('g constraint 1 searching Search', 'd 1 F', 'b none 0')).toBe(3)
  })

  it('is not built on: what rests on a step that does not follow does not follow either', () => {
    const r = replay(['g clause 1 2', 'l 1 1', 'l 2 -1', 'b none 0'])
    expect([r.failures.length, r.bounds.length]).toEqual([3, 0])
    expect(wrong('l 1 1', 'f 1')).toBe(1)
  })

  it('does not take the place of what was', () => {
    const axis = 'g axis 1 0 10 10'
    const apart = 'g constraint 1 relation 5 1 0 95 1 0 0'
    expect(wrong(axis, apart, 'd 1 F 5')).toBe(0)
    expect(wrong(axis, apart, 'g constraint 1 relation T 1 0 95 1 0 0', 'd 1 F', 'b none 0')).toBe(3)
    expect(wrong(axis, 'g axis 1 100 10 10')).toBe(1)
    const map = 'g constraint 2 map T 5 1 1 1 6 1'
    expect(wrong(axis, 'g bitmap 1 0 0 10 10 0 100', 'g bitmap 1 0 0 10 10 100', map, 'd 2 -5')).toBe(2)
    expect(wrong('l 1 5 -5', 'l 1 6 -6')).toBe(1)
  })

  const refused = (...lines: string[]) => expect(() => replay(lines), lines.at(-1)!)

  it('is not read out of lines with a word more or fewer', () => {
    const axis = 'g axis 1 0 10 10'
    for (const line of [
      'g',
      'g threshold 1 balance',
      'g threshold 1 balance 3 4',
      'g axis 2 0 10',
      'g axis 2 0 10 10 ',
      'g bitmap 1 0 0 10',
      'g constraint',
      'g constraint 1 other',
      'g constraint 1 other Cover Apart',
      'g constraint 1 relation 5 1 0 5 1 0',
      'g constraint 1 relation 5 1 0 5 1 0 0 0',
      'd',
      'd 1',
      'l',
      'f',
      'f 1 2',
      'b',
      'b none',
      'b balance',
      'g clause  1',
    ])
      refused(axis, line).toThrow()
  })

  it('is not read out of what is no number, or is too large a one to be exact', () => {
    const axis = 'g axis 1 0 10 10'
    for (const n of ['NaN', 'Infinity', '-Infinity', '1e309', '1e20', '0x10', '+3', ''])
      refused(axis, `g threshold 1 balance ${n}`).toThrow(/number/)
    for (const n of ['NaN', 'Infinity', '-Infinity', '1e300', '1e16', '2.5', '']) {
      refused(axis, `g axis 2 ${n} 10 10`).toThrow(/number/)
      refused(axis, `g constraint 1 relation 5 1 0 ${n} 1 0 0`).toThrow(/number/)
    }
    refused(axis, 'g axis 2 0 10 -1').toThrow(/count/)
    refused(axis, 'g bitmap 1 0 0 -3 -3 9').toThrow(/count/)
    refused(axis, 'g bitmap 1 0 0 2 2 0 6 -2').toThrow(/count/)
    refused(axis, 'g constraint 1 map T 5 1 1 1 6 7').toThrow('no bitmap 7')
    refused(axis, 'g constraint 1 within 0 3 25 1 0 0 1 0 0 1 0 0 1 0 0').toThrow('parts of 3')
    expect(wrong('g axis 2 0 1000000000000 3')).toBe(1)
    // refused before there is an attempt to hold them
    expect(wrong('g axis 2 0 1 1000000000')).toBe(1)
    expect(wrong('g axis 2 0 1 1 2 1 1000000000')).toBe(1)
    expect(wrong('g bitmap 1 0 0 1000000 1000000 0')).toBe(1)
    expect(wrong('g clause 900000000000000', 'l 1 900000000000000')).toBe(0)
  })

  it('is not read out of what is no literal', () => {
    for (const l of ['x', '1.x', '1.', '.1', '-', '1.-3', '--1', '1.2.3', '1234567890123456']) {
      refused(`g clause ${l}`).toThrow('not a literal')
      refused('g axis 1 0 10 10', `g constraint 1 relation ${l} 1 0 5 1 0 0`).toThrow('not a literal')
    }
    // two that are told apart by their text alone
    refused('g clause 1.9007199254740992', 'l 1 1.9007199254740993').toThrow('not a literal')
  })

  it('is not summed where the sum is not exact', () => {
    // 2^53 − 1 and 1 and 1 are 2^53 + 1, which is no number that is at hand: 2^53 would be less
    const sum = (least: number) => `g constraint 1 linear T ${least} 3 5 9007199254740991 6 1 7 1 0`
    expect(wrong(sum(9007199254740991), 'd 1 F -5')).toBe(0)
    expect(wrong(sum(9007199254740991), 'd 1 F')).toBe(1)
    // seven tenths and one are 0.7999…
    expect(wrong('g constraint 1 linear T 0.8 2 5 0.7 6 0.1 0', 'd 1 F')).toBe(1)
  })
})

describe('thresholds of goals, at their limits', () => {
  const judged = (threshold: string, constraint: string, step: string): number =>
    wrong(
      'g axis 1 0 10 10',
      'g axis 2 0 10 10',
      'g axis 3 0 0 1',
      threshold,
      `g constraint 1 ${constraint}`,
      `d 1 ${step}`,
    )

  it('balance: 10 g at the aim, 30 g at (1, 2) less (20, 0)', () => {
    const balance = 'balance 10 0 0 1 5 30 1 0 0 2 0 0 20 0'
    // at (60, 30): 30 · (40, 30) / 40 g = 37.5 µm off
    expect(judged('g threshold 9 balance 37', balance, 'F 9 5 1.6 2.3')).toBe(0)
    expect(judged('g threshold 9 balance 38', balance, 'F 9 5 1.6 2.3')).toBe(1)
    expect(judged('g threshold 9 balance 37', balance, 'F 9 1.6 2.3')).toBe(1)
    expect(judged('g threshold 9 balance 37', balance, 'F 5 1.6 2.3')).toBe(1)
    expect(judged('g threshold 9 balance 37', balance, 'F 9 5 1.6 2.2')).toBe(1)
  })

  // one wire of two conductors between bodies 5 (coordinate 1) and 6 (coordinate 2), both on y = 0; relation 7: 1 + 25 ≤ 2
  const ends = '1 5 5 1 0 0 3 0 0 1 0 0 1 6 6 2 0 0 3 0 0 1 0 0'
  const related = `wires wire-length 1 2 ${ends} 1 7 1 0 25 2 0 0 0 0 0`

  it('wires: as far apart as their boxes are, times conductors', () => {
    expect(judged('g threshold 9 wire-length 59', related, 'F 9 5 6 -1.3 2.5')).toBe(0)
    expect(judged('g threshold 9 wire-length 60', related, 'F 9 5 6 -1.3 2.5')).toBe(1)
    expect(judged('g threshold 9 wire-length 59', related, 'F 9 5 -1.3 2.5')).toBe(1)
  })

  it('wires: as far apart as a relation keeps them', () => {
    expect(judged('g threshold 9 wire-length 49', related, 'F 9 5 6 7')).toBe(0)
    expect(judged('g threshold 9 wire-length 50', related, 'F 9 5 6 7')).toBe(1)
    expect(judged('g threshold 9 wire-length 49', related, 'F 9 5 6')).toBe(1)
  })
})

describe('deductions at their limits', () => {
  // coordinates 1 and 2 with values 0, 10 … 90 µm, and 3 with 0 and 25
  const axes = ['g axis 1 0 10 10', 'g axis 2 0 10 10', 'g axis 3 0 25 2']
  const judged = (constraint: string, step: string): number =>
    wrong(...axes, 'g bitmap 1 0 0 10 10 34 12 54', `g constraint 1 ${constraint}`, `d 1 ${step}`)

  it('difference: literal 5 makes 1 + 15 ≤ 2', () => {
    const plain = 'relation 5 1 0 15 2 0 0'
    expect(judged(plain, '2.5 5 1.3')).toBe(0)
    expect(judged(plain, '2.6 5 1.3')).toBe(1)
    expect(judged(plain, '2.5 1.3')).toBe(1)
    expect(judged(plain, '-5 1.3 -2.5')).toBe(0)
    expect(judged(plain, '-5 1.3 -2.6')).toBe(1)
    // with modes 6 and 7 of the first: 5 or 15 more
    const modes = 'relation 5 1 2 6 5 7 15 2 0 0'
    expect(judged(modes, '2.4 5 1.3')).toBe(0)
    expect(judged(modes, '2.5 5 1.3')).toBe(1)
    expect(judged(modes, '2.5 5 1.3 7')).toBe(0)
    expect(judged(modes, '2.5 5 1.3 -6')).toBe(0)
  })

  it('bitmap: mode 6 of body 5 stands only at column 3 from row 4, and column 4 up to row 5', () => {
    const map = 'map T 5 1 2 1 6 1'
    expect(judged(map, '1.3 5')).toBe(0)
    expect(judged(map, '1.4 5')).toBe(1)
    expect(judged(map, '1.4 5 -2.4')).toBe(0)
    expect(judged(map, '1.4 5 -2.5')).toBe(1)
    expect(judged(map, '1.3')).toBe(1)
    expect(judged(map, '-6 1.4 2.6')).toBe(0)
    expect(judged(map, '-6 1.4 2.5')).toBe(1)
  })

  it('sum: 20·[5] + 10·[6] − value of 3 ≥ 5, behind 7', () => {
    const sum = 'linear 7 5 2 5 20 6 10 1 3'
    expect(judged(sum, '-3 7 -6')).toBe(0)
    expect(judged(sum, '-3 7')).toBe(1)
    expect(judged('linear 7 6 2 5 20 6 10 1 3', '-3 7')).toBe(0)
    expect(judged(sum, '5 7 -6')).toBe(0)
    expect(judged(sum, '5 7')).toBe(1)
    expect(judged('linear 7 11 2 5 20 6 10 1 3', '5 7')).toBe(0)
    expect(judged(sum, '-7 -5 3')).toBe(0)
    expect(judged(sum, '-7 -5')).toBe(1)
  })

  it('equation: 1 = 2 − 3 + 30 when 5', () => {
    const sum = 'sum 1 5 1 2 3 -1 30'
    expect(judged(sum, '1.1 5')).toBe(0)
    expect(judged(sum, '1.2 5')).toBe(1)
    expect(judged(sum, '1.5 5 2.2')).toBe(1)
    expect(judged(sum, '1.7 5 2.4 -3')).toBe(0)
    expect(judged(sum, '1.8 5 2.4 -3')).toBe(1)
    expect(judged(sum, '1.7 5 2.4')).toBe(1)
    expect(judged(sum, '-2.6 5 -1.9 -3')).toBe(0)
    expect(judged(sum, '-2.5 5 -1.9 -3')).toBe(1)
    expect(judged(sum, '-2.6 -1.9 -3')).toBe(1)
    expect(judged(sum, '3 5 -1.4 2.5')).toBe(0)
    expect(judged(sum, '3 5 -1.4 2.1')).toBe(0)
    expect(judged(sum, '3 5 -1.5 2.1')).toBe(1)
  })

  it('reach: |1 − 2| + |2 − 2| ≤ 25 when 5 and 6', () => {
    const within = 'within 2 5 6 1 25 1 0 0 2 0 0 2 0 0 2 0 0'
    expect(judged(within, '-5 6 1.6 -2.3')).toBe(0)
    expect(judged(within, '-5 6 1.5 -2.3')).toBe(0)
    expect(judged(within, '-5 6 1.4 -2.3')).toBe(1)
    expect(judged(within, '2.4 5 6 1.6')).toBe(0)
    expect(judged(within, '2.5 5 6 1.6')).toBe(1)
  })

  it('passes: by (30, 0) or by (90, 90)', () => {
    const chain = 'chain 1 5 40 1 0 0 3 0 0 2 0 0 3 0 0 2 30 0 30 0 5 90 90 90 90 0'
    expect(judged(chain, '-5 -1.1 -2.1')).toBe(0)
    expect(judged(chain, '-5 -1.2 -2.1')).toBe(0)
    expect(judged(chain, '-5 -1.3 -2.2')).toBe(1)
  })
})

/** A proof with enough in it. */
function sizable(): readonly string[] {
  for (let seed = 60_040; seed < 60_140; seed++) {
    const { lines } = proofOf(randomDeck(seed, tiny), { steps: 2000 })
    const r = replay(lines)
    if (r.steps.learned >= 80 && r.judged.size >= 4 && r.bounds.length >= 3) return lines
  }
  throw new Error('no deck has a proof of any size')
}

describe('a proof that was tampered with', () => {
  const lines = sizable()
  const after = (change: (words: string[]) => string[] | undefined, seed: number): Replay | undefined => {
    const r = rng(seed)
    const order = r.shuffle(lines.map((_, i) => i))
    for (const i of order) {
      const next = change(lines[i]!.split(' '))
      if (next) return replay(lines.map((l, k) => (k === i ? next.join(' ') : l)))
    }
    return undefined
  }
  const shareFound = (change: (words: string[]) => string[] | undefined, n = 40): number => {
    let found = 0
    for (let s = 0; s < n; s++) if (after(change, s)!.failures.length > 0) found++
    return found / n
  }

  it('stands as it is', () => {
    expect(lines.length).toBeGreaterThan(100)
    expect(replay(lines).failures).toEqual([])
  })

  it('falls with a bound that says more', () => {
    expect(shareFound((w) => (w[0] === 'b' ? [w[0], w[1]!, String(Number(w[2]) - 1), ...w.slice(3)] : undefined))).toBe(
      1,
    )
  })

  it('falls with a bound that says of what was asked for that there is none at all', () => {
    expect(shareFound((w) => (w[0] === 'b' && w.length > 3 ? ['b', 'none', '0', ...w.slice(3)] : undefined), 10)).toBe(
      1,
    )
  })

  it('bears a result out only by bounds under what the result meets in the goals before', () => {
    const of = (goal: string, value: number, bound: number) => ({ name: goal, value, bound, proven: true })
    const result = {
      status: 'optimal',
      objectives: [of('free-tie-points', 8, 8), of('wire-length', 40, 40)],
    } as unknown as SolveResult
    const told = (...under: { goal: string; value: number }[]) =>
      unproven(result, {
        ...replay([]),
        bounds: [
          { goal: 'free-tie-points', value: 9, under: [] },
          { goal: 'wire-length', value: 39, under },
        ],
      })
    expect(told()).toEqual([])
    expect(told({ goal: 'free-tie-points', value: 8 })).toEqual([])
    expect(told({ goal: 'free-tie-points', value: 9 })).toEqual(['nothing bounds wire-length'])
    expect(told({ goal: 'balance', value: 3 })).toEqual(['nothing bounds wire-length'])
  })

  it('mostly falls with a literal fewer in what was learned', () => {
    expect(shareFound((w) => (w[0] === 'l' && w.length > 3 ? w.slice(0, -1) : undefined))).toBeGreaterThan(0.6) // classes of modes imply one another, so more of them follow still
  })

  it('mostly falls with a reason fewer in a deduction that can be judged', () => {
    const kinds = new Set(
      lines
        .filter((l) => /^g constraint \d+ (relation|map|within|sum|linear|chain|strip)/.test(l))
        .map((l) => l.split(' ')[2]),
    )
    expect(
      shareFound((w) => (w[0] === 'd' && kinds.has(w[1]) && w.length > 3 ? w.slice(0, -1) : undefined)),
    ).toBeGreaterThan(0.8)
  })

  it('falls without its deductions', () => {
    expect(replay(lines.filter((l) => !l.startsWith('d '))).failures.length).toBeGreaterThan(0)
  })
})

it('the replayer shares no code with the search', () => {
  const own = ['replay', 'constraints', 'goal-constraints', 'circulation', 'clause-base']
  for (const file of own) {
    const text = readFileSync(new URL(`../../solver/proof/${file}.ts`, import.meta.url), 'utf8')
    const from = [...text.matchAll(/from '([^']+)'/g)].map((m) => m[1])
    for (const f of from) expect(own.map((o) => `./${o}.ts`)).toContain(f)
  }
})
