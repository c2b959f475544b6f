/** Drags: one item held at 60 successive places a millimetre apart, the next legal layout near the last. */
import {
  bounds,
  check,
  type Hold,
  type Placement,
  type Problem,
  prepare,
  Session,
  solve,
  turnedSize,
  um,
} from '../../solver/index.ts'
import { problemOf } from '../published/project.ts'
import { benchDecks } from './decks.ts'
import { demoProblems, type Named } from './problems.ts'
import { median, ms, quantile, type Section, table, yes } from './timing.ts'

const PLACES = 60

/** Towards the middle of the deck and back along x, then along y, in steps of the grid: 60 places, the first one where it stands. */
function path(from: Placement, p: Problem): Hold[] {
  const quarter = PLACES / 4
  const { width, depth } = p.items[from.item]!.footprint
  const size = turnedSize(width, depth, from.turn)
  const deck = bounds(prepare(p.decks[from.deck]!.outline))
  const right = Math.sign(deck.x + deck.w / 2 - from.at.x - size.w / 2) || 1
  const front = Math.sign(deck.y + deck.h / 2 - from.at.y - size.h / 2) || 1
  return Array.from({ length: PLACES }, (_, k) => {
    const leg = Math.floor(k / quarter)
    const far = (leg % 2 === 0 ? k % quarter : quarter - (k % quarter)) * p.grid
    const [dx, dy] = leg < 2 ? [far * right, 0] : [0, far * front]
    const at = { x: um(from.at.x + dx), y: um(from.at.y + dy) }
    return { item: from.item, deck: from.deck, at, turn: from.turn }
  })
}

/** Items that stand on the grid, of all sizes: largest, middle and smallest. */
function grips(p: Problem, layout: readonly Placement[]): Placement[] {
  const free = layout.filter((q) => {
    const item = p.items[q.item]!
    return q.host === undefined && !item.place.some((e) => e.kind === 'at' || e.kind === 'centred')
  })
  const area = (q: Placement): number => p.items[q.item]!.footprint.width * p.items[q.item]!.footprint.depth
  free.sort((a, b) => area(b) - area(a))
  return [...new Set([free[0], free[Math.floor(free.length / 2)], free.at(-1)])].filter((q) => q !== undefined)
}

export const drags: Section = {
  name: 'drags',
  run: async ({ quick }, say) => {
    const robots = benchDecks()
      .filter((d) => d.name.startsWith('20'))
      .slice(0, quick ? 1 : 2)
      .map(({ name, text }): Named => ({ name, problem: problemOf(text) }))
    const rows: string[][] = []
    const every: number[] = []
    const led: number[] = []
    for (const { name, problem } of [...demoProblems(), ...robots]) {
      const start = solve(problem, { time: 3000 })
      if (!('placements' in start)) continue
      const opened = performance.now()
      const session = new Session(problem)
      const opening = performance.now() - opened
      for (const grip of grips(problem, start.placements)) {
        let last: readonly Placement[] = start.placements
        let found = 0
        const times = path(grip, problem).map((hold) => {
          const t = performance.now()
          const next = session.next([hold], last)
          const took = performance.now() - t
          if (!next) return took
          if (check(problem, next).length > 0) throw new Error(`${name}: a drag ended in an illegal layout`)
          const held = next.find((q) => q.item === hold.item)
          if (held?.at.x !== hold.at.x || held.at.y !== hold.at.y)
            throw new Error(`${name}: the item is not where it is held`)
          found++
          led.push(took)
          last = next
          return took
        })
        every.push(...times)
        const [middle, late] = [median(times), quantile(times, 0.99)]
        rows.push([
          name,
          problem.items[grip.item]!.id,
          ms(opening),
          `${found} of ${PLACES}`,
          ms(times[0]!),
          ms(middle),
          ms(late),
          yes(middle < 2 && late < 16),
        ])
        say(rows.at(-1)!.join(' | '))
      }
    }
    const all = `All ${every.length} places together: median ${ms(median(every))} ms, 99 % within ${ms(quantile(every, 0.99))} ms (wanted: 2 and 16). The ${led.length} of them that have a layout: ${ms(median(led))} and ${ms(quantile(led, 0.99))} ms. In the table, where no layout is found, the time until that was said counts too; every layout passes the checker within the time.`
    const head = [
      'robot',
      'item',
      'opening, ms',
      'layouts',
      'first place, ms',
      'median, ms',
      '99 %, ms',
      'within 2 and 16',
    ]
    return `## Drags: an item held at ${PLACES} successive places\n\n${all}\n\n${table(head, rows)}`
  },
}
