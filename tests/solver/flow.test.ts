/** The dearest circulation is the least of what it is the dual of, as a library for linear programmes has it; also from where another one ended. */
import fc from 'fast-check'
import loadHighs from 'highs'
import { expect, it } from 'vitest'
import { Flow } from '../../solver/search/flow.ts'

interface Arc {
  readonly tail: number
  readonly head: number
  readonly gain: number
  /** ∞: an order that holds. */
  readonly cap: number
}

interface Net {
  /** Positions with which every order holds. */
  readonly low: readonly number[]
  readonly arcs: readonly Arc[]
}

const net = (nodes: number): fc.Arbitrary<Net> =>
  fc.array(fc.integer({ min: 0, max: 40 }), { minLength: nodes, maxLength: nodes }).chain((low) => {
    const node = fc.nat(nodes - 1)
    const order = fc
      .tuple(node, node, fc.nat(15))
      .filter(([tail, head]) => tail !== head)
      .map(([tail, head, room]): Arc => ({ tail, head, gain: low[head]! - low[tail]! - room, cap: Infinity }))
    const pull = fc
      .tuple(node, node, fc.integer({ min: -20, max: 20 }), fc.integer({ min: 1, max: 4 }))
      .filter(([tail, head]) => tail !== head)
      .map(([tail, head, gain, cap]): Arc => ({ tail, head, gain, cap }))
    const arcs = fc.tuple(fc.array(order, { maxLength: 14 }), fc.array(pull, { minLength: 1, maxLength: 10 }))
    // nothing is beyond 100 of the first, so that there is a way for whatever flows
    const box = low.slice(1).flatMap((x, i): Arc[] => [
      { tail: 0, head: i + 1, gain: x - low[0]!, cap: Infinity },
      { tail: i + 1, head: 0, gain: -100, cap: Infinity },
    ])
    return arcs.map(([orders, pulls]) => ({ low, arcs: [...box, ...orders, ...pulls] }))
  })

const highs = await loadHighs()

/** Least Σ cap · max(0, gain + x_tail − x_head) where every order holds. */
function least({ low, arcs }: Net): number {
  const pulls = arcs.filter((a) => a.cap < Infinity)
  const x = (n: number, sign: string) => `${sign} x${n}`
  const rows = [
    ...arcs.filter((a) => a.cap === Infinity).map((a) => `${x(a.head, '')} ${x(a.tail, '-')} >= ${a.gain}`),
    ...pulls.map((a, i) => `s${i} + ${x(a.head, '')} ${x(a.tail, '-')} >= ${a.gain}`),
  ]
  const free = low.map((_, n) => `x${n} free`)
  const sum = pulls.map((a, i) => `${a.cap} s${i}`).join(' + ')
  return highs.solve(`Minimize\n ${sum}\nSubject To\n ${rows.join('\n ')}\nBounds\n ${free.join('\n ')}\nEnd`)
    .ObjectiveValue
}

/** Solved; `from`: where another one ended, and what its arcs carried. */
function solved(
  flow: Flow,
  { low, arcs }: Net,
  from?: { readonly at: readonly number[]; readonly carried: readonly number[] },
) {
  flow.reset(low.length)
  low.forEach((x, n) => {
    flow.start(n, x, n === 0 ? x : from?.at[n])
  })
  arcs.forEach(({ tail, head, gain, cap }, a) => {
    flow.add(tail, head, gain, cap, from?.carried[a])
  })
  const value = flow.solve()
  const start = flow.at(0) - low[0]!
  return { value, at: low.map((_, n) => flow.at(n) - start), carried: arcs.map((_, a) => flow.flow[a]!) }
}

it('is the least that a library for linear programmes finds, begun anew or where another one ended', () => {
  const flow = new Flow()
  const some = fc.integer({ min: 2, max: 7 }).chain((nodes) => fc.tuple(net(nodes), net(nodes)))
  const runs = process.env.DECKWRIGHT_LONG === '1' ? 150 : 100
  let warm = 0
  fc.assert(
    fc.property(some, ([one, two]) => {
      const first = solved(flow, one)
      expect(first.value).toBeCloseTo(least(one), 6)
      // the same again takes no step, another one may
      expect(solved(flow, one, first)).toEqual(first)
      const { value, at, carried } = solved(flow, two, first)
      expect(value).toBeCloseTo(least(two), 6)
      warm += Number(value > 0)
      // a circulation: what comes in goes out; and nobody carries more than it may
      const left = two.low.map(() => 0)
      two.arcs.forEach(({ tail, head, gain, cap }, a) => {
        left[tail]! -= carried[a]!
        left[head]! += carried[a]!
        expect(carried[a]).toBeLessThanOrEqual(cap)
        expect(carried[a]).toBeGreaterThanOrEqual(0)
        if (cap === Infinity) expect(at[head]! - at[tail]!).toBeGreaterThanOrEqual(gain)
      })
      expect(left).toEqual(left.map(() => 0))
    }),
    { seed: 7, numRuns: runs },
  )
  expect(warm).toBeGreaterThan((4 / 15) * runs)
})
