import { describe, expect, it } from 'vitest'
import { type Placement, type Turn, um } from '../../solver/index.ts'
import { inspectPins } from '../../src/electric/pins-inspect.ts'
import { board, robot } from './netlist-kit.ts'

/** A legal layout keeps its lengths and contacts when the whole of it is turned about the origin and moved. */
function turned({ problem, placements }: ReturnType<typeof robot>, quarter: Turn) {
  const spin = (x: number, y: number): [number, number] =>
    (
      [
        [x, y],
        [-y, x],
        [-x, -y],
        [y, -x],
      ] as [number, number][]
    )[quarter]!
  return {
    problem: {
      ...problem,
      exits: problem.exits.map((e) => {
        const [x, y] = spin(e.at.x, e.at.y)
        return { ...e, at: { x: um(x), y: um(y) } }
      }),
    },
    placements: placements.map((p): Placement => {
      const f = problem.items[p.item]!.footprint
      const a = spin(p.at.x, p.at.y)
      const b = spin(p.at.x + f.width, p.at.y + f.depth)
      return {
        ...p,
        at: { x: um(Math.min(a[0], b[0])), y: um(Math.min(a[1], b[1])) },
        turn: ((p.turn + quarter) % 4) as Turn,
      }
    }),
  }
}

describe('pin by pin, all of it', () => {
  it('is plain data: JSON says it all', () => {
    const { problem, placements } = robot()
    const seen = inspectPins(problem, placements)
    expect(JSON.parse(JSON.stringify(seen))).toEqual(seen)
    expect(seen.nets).toBe(7)
    expect(seen.findings.map((f) => f.weight)).toEqual(['worth-knowing'])
    expect(seen.links.every((l) => l.from.deck === 'd')).toBe(true)
  })

  it.each([1, 2, 3] as const)('does not change when everything is turned by %i quarters', (quarter) => {
    const plain = (r: { problem: Parameters<typeof inspectPins>[0]; placements: readonly Placement[] }) => {
      const { links, table, findings, preparation, assigned } = inspectPins(r.problem, r.placements)
      const ends = links.map(({ from, to, ...l }) => ({
        ...l,
        from: `${from.of} ${from.name}`,
        to: `${to.of} ${to.name}`,
      }))
      return { ends, table, findings, preparation, assigned }
    }
    expect(plain(turned(robot(), quarter))).toEqual(plain(robot()))
  })

  it('says nothing of a project without nets but what is to be made ready', () => {
    const { problem, placements } = robot((p) => delete p.nets)
    const seen = inspectPins(problem, placements)
    expect([seen.nets, seen.table, seen.links, seen.findings]).toEqual([0, [], [], []])
    expect(seen.preparation.headers.length).toBe(1)
  })

  it('of nothing placed is nothing but open nets', () => {
    const { problem } = robot()
    const seen = inspectPins(problem, [])
    expect(new Set(seen.findings.map((f) => f.topic))).toEqual(new Set(['open net']))
    expect(seen.links).toEqual([])
  })

  it('goes through passes from deck to deck', () => {
    const lower = (passes: object[]) => {
      const r = robot((p) => {
        p.decks.push({ id: 'low', z: 10, thickness: 3, outline: { rect: [0, 0, 300, 150] } })
        p.passes = passes
      })
      const pack = r.problem.items.findIndex((i) => i.id === 'pack')
      return { ...r, placements: r.placements.map((p) => (p.item === pack ? { ...p, deck: 1 } : p)) }
    }
    const { problem, placements } = lower([{ id: 'p', decks: ['d', 'low'], at: [100, 60] }])
    const seen = inspectPins(problem, placements)
    const lead = seen.links.find((l) => l.net === 'battery' && [l.from.of, l.to.of].includes('pack'))!
    const [low, high] = lead.from.of === 'pack' ? [lead.from, lead.to] : [lead.to, lead.from]
    const way = (e: typeof low) => Math.abs(e.at[0] - 100) + Math.abs(e.at[1] - 60)
    expect(lead.length).toBeCloseTo(way(low) + way(high) + 30, 6)
    const none = lower([])
    expect(inspectPins(none.problem, none.placements).findings.map((f) => f.topic)).toContain('no strip')
  })

  it('joins all ends of a return that needs more contacts than one rail has', () => {
    const { problem, placements } = robot((p) => {
      p.footprints[1] = board(12)
      const copies = Array.from({ length: 36 }, (_, k) => `led${k}`)
      p.footprints.push({
        id: 'led',
        body: { width: 5, depth: 5, height: 5 },
        mount: { kind: 'adhesive' },
        terminals: [
          { id: 'a', at: [1, 1], kind: 'digital' },
          { id: 'k', at: [4, 1], kind: 'return' },
        ],
      })
      for (const id of copies) p.items.push({ id, footprint: 'led' })
      p.at = Object.fromEntries(copies.map((id, k) => [id, [150 + (k % 12) * 8, 10 * Math.floor(k / 12)]]))
      const back = p.nets.find((n: { id: string }) => n.id === 'return')
      for (const id of copies) back.ends.push({ item: id, terminal: 'k' })
    })
    expect(placements.length).toBe(40)
    // 40 ends
    const seen = inspectPins(problem, placements)
    expect(seen.findings.filter((f) => f.weight === 'stops' && f.topic !== 'open pin')).toEqual([])
  })
})
