/** How the cost of proving free tie points grows with items, grid and decks. */
import { solve } from '../../solver/index.ts'
import { problemOf } from '../published/project.ts'
import { growing } from './growing.ts'
import { type Curve, plot } from './plot.ts'
import { aiming } from './problems.ts'
import { median, ms, mustBeSound, type Section, table } from './timing.ts'

interface Point {
  readonly axis: string
  readonly items: number
  readonly grid: number
  readonly decks: number
}

const ITEMS = [4, 8, 12, 16, 20, 28, 40]
const SEEDS = [1, 2, 3]

function points(): Point[] {
  return [
    ...ITEMS.map((items) => ({ axis: 'items', items, grid: 1, decks: items <= 12 ? 1 : items <= 24 ? 2 : 3 })),
    ...[2, 1, 0.5].map((grid) => ({ axis: 'grid', items: 10, grid, decks: 1 })),
    ...[1, 2, 3].map((decks) => ({ axis: 'decks', items: 10, grid: 1, decks })),
  ]
}

interface Measured extends Point {
  readonly legal: number
  readonly all: number
  readonly proven: number
}

function measure(p: Point, seconds: number, seeds: readonly number[]): Measured {
  const legal: number[] = []
  const all: number[] = []
  let proven = 0
  for (const seed of seeds) {
    const problem = aiming(problemOf(growing(p.items, p.decks, p.grid, seed)), ['free-tie-points'])
    if (problem.items.length !== p.items) throw new Error(`${problem.items.length} items instead of ${p.items}`)
    const t = performance.now()
    let first = seconds * 1000
    const result = solve(problem, {
      time: seconds * 1000,
      onProgress: (q) => {
        if (q.phase === 'legal') first = performance.now() - t
      },
    })
    all.push(performance.now() - t)
    mustBeSound(`${p.items} items, ${p.grid} mm, ${p.decks} decks`, problem, result)
    legal.push(first)
    if (result.status === 'optimal' || result.status === 'infeasible') proven++
  }
  return { ...p, legal: median(legal), all: median(all), proven }
}

/** The last plot, for `--write`. */
export let drawn = ''

export const growth: Section = {
  name: 'growth',
  run: async ({ quick }, say) => {
    const seconds = quick ? 3 : 8
    const seeds = quick ? [1] : SEEDS
    const list = points()
      .filter((p) => !quick || p.items <= 20)
      .map((p) => {
        const m = measure(p, seconds, seeds)
        say(`${m.axis}: ${m.items} items, ${m.grid} mm, ${m.decks} decks: ${ms(m.legal)}, ${ms(m.all)} ms`)
        return m
      })
    const curve = (name: string, axis: string, x: (m: Measured) => number, y: (m: Measured) => number): Curve => ({
      name,
      points: list.filter((m) => m.axis === axis).map((m) => ({ x: x(m), y: y(m) })),
    })
    drawn = plot(
      [
        {
          title: 'items (1 deck to 12, 2 to 24, 3 beyond)',
          curves: [
            curve(
              'first legal layout',
              'items',
              (m) => m.items,
              (m) => m.legal,
            ),
            curve(
              'tie points proven',
              'items',
              (m) => m.items,
              (m) => m.all,
            ),
          ],
        },
        {
          title: 'grid steps a millimetre, 10 items',
          curves: [
            curve(
              'first legal layout',
              'grid',
              (m) => 1 / m.grid,
              (m) => m.legal,
            ),
            curve(
              'tie points proven',
              'grid',
              (m) => 1 / m.grid,
              (m) => m.all,
            ),
          ],
        },
        {
          title: 'decks, 10 items',
          curves: [
            curve(
              'first legal layout',
              'decks',
              (m) => m.decks,
              (m) => m.legal,
            ),
            curve(
              'tie points proven',
              'decks',
              (m) => m.decks,
              (m) => m.all,
            ),
          ],
        },
      ],
      seconds * 1000,
    )
    const rows = list.map((m) => [
      m.axis,
      `${m.items}`,
      `${m.grid}`,
      `${m.decks}`,
      ms(m.legal),
      m.proven * 2 > seeds.length ? ms(m.all) : `not in ${seconds} s`,
      `${m.proven} of ${seeds.length}`,
    ])
    const head = [
      'what grows',
      'items',
      'grid, mm',
      'decks',
      'first legal layout, ms',
      'tie points proven, ms',
      'proven',
    ]
    const note = `Medians of ${seeds.length} robots each, first runs; a run without an answer counts ${seconds} s.`
    return `## How cost grows\n\n${note}\n\n![How cost grows](growth.svg)\n\n${table(head, rows)}`
  },
}
