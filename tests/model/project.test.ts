/** Every field of contract §2 and §3: read, kept, and turned into the solver's words. Expected values worked out by hand. */
import { describe, expect, it } from 'vitest'
import { footprintToSolver } from '../../footprints/schema.ts'
import { formatProblem, readProject, toProblem, writeProject } from '../../src/model/index.ts'
import { full, none, problem, read, small } from './full-project.ts'

describe('a project with every field', () => {
  it('reads without a word, as it stands', () => {
    expect(read(full())).toEqual(full())
    expect(read(JSON.parse(writeProject(full())))).toEqual(full())
    expect(writeProject(full()).endsWith('}\n')).toBe(true)
    expect(writeProject(full()).split('\n')[1]).toBe('  "format": "deckwright-project",')
  })

  it('becomes decks, exits, passes, zones, chassis and settings in whole micrometres', () => {
    const p = problem(read(full()), 'plain')
    expect([p.name, p.variant, p.grid, p.edgeClearance, p.itemClearance, p.minWeb]).toEqual([
      'pond skimmer',
      'plain',
      500,
      1000,
      250,
      3000,
    ])
    expect(p.decks).toEqual([
      {
        id: 'main',
        name: 'main deck',
        z: 40000,
        thickness: 3000,
        outline: {
          kind: 'polygon',
          points: [
            { x: 0, y: 0, bulge: 0 },
            { x: 120000, y: 0, bulge: 0.5 },
            { x: 120000, y: 180000, bulge: 0 },
            { x: 0, y: 180000, bulge: 0 },
          ],
        },
        openings: [
          { id: 'slot', shape: { kind: 'rect', x: 50000, y: 20000, w: 10000, h: 4000, radius: 2000 }, mayCover: true },
          { id: 'eye', shape: { kind: 'circle', cx: 20000, cy: 160000, r: 6100 }, mayCover: false },
        ],
        holes: [{ id: 'p1', at: { x: 5000, y: 5000 }, diameter: 3200 }],
        material: 'plywood',
      },
      {
        id: 'top',
        name: 'top',
        z: 90000,
        thickness: 2000,
        outline: { kind: 'sector', cx: 60000, cy: 60000, r: 50000, from: 300, to: 420 },
        openings: [],
        holes: [],
      },
    ])
    expect(p.exits).toEqual([
      { id: 'motor', deck: 0, at: { x: 10000, y: 12500 }, free: 200000, diameter: 8000 },
      { id: 'lamp', deck: 1, at: { x: 60000, y: 60000 } },
    ])
    expect(p.passes).toEqual([
      { id: 'riser', decks: [0, 1], at: { x: 80000, y: 60000 }, diameter: 12000 },
      { id: 'gap', decks: [1, 0], at: { x: 0, y: 0 } },
    ])
    expect(p.zones).toEqual([
      {
        id: 'bay',
        kind: 'reserved',
        deck: 0,
        shape: { kind: 'rect', x: 0, y: 150000, w: 20000, h: 20000, radius: 0 },
        z: [0, 30000],
        why: 'gripper',
      },
      { id: 'view', kind: 'view', deck: 1, shape: { kind: 'circle', cx: 60000, cy: 60000, r: 5000 } },
      { id: 'post', kind: 'keep-out', deck: 0, shape: { kind: 'circle', cx: 5000, cy: 5000, r: 5000 } },
      {
        id: 'gear',
        kind: 'underside',
        deck: 0,
        shape: { kind: 'rect', x: 0, y: 0, w: 30000, h: 30000, radius: 0 },
      },
    ])
    expect(p.chassis).toEqual({
      contact: [
        { x: 0, y: 0 },
        { x: 120000, y: 0 },
        { x: 120000, y: 180000 },
        { x: 0, y: 180000 },
      ],
      mass: 900,
      centre: { x: 60000, y: 88500, z: 21000 },
    })
    expect(p.objective).toEqual(['wire-length', 'balance'])
  })

  it('becomes items with their copies, places and references', () => {
    const p = problem(read(full()), 'plain')
    expect(p.items.map((i) => [i.id, i.base, i.footprint.id])).toEqual([
      ['brain', 'brain', 'controller'],
      ['board#1', 'board', 'contacts'],
      ['board#2', 'board', 'contacts'],
      ['board#3', 'board', 'contacts'],
      ['chip', 'chip', 'driver'],
      ['pack', 'pack', 'cells'],
      ['arm', 'arm', 'neck'],
    ])
    const { footprint: _, ...brain } = p.items[0]!
    expect(brain).toEqual({
      id: 'brain',
      base: 'brain',
      required: true,
      value: 1,
      turns: [1, 3],
      decks: [0],
      place: [
        { kind: 'at', deck: 0, at: { x: 4000, y: 20500 }, turn: 1 },
        { kind: 'centred', axis: 'x' },
        { kind: 'edge', edge: 'left', within: 5000 },
        { kind: 'inside', shape: { kind: 'circle', cx: 60000, cy: 60000, r: 55000 } },
        { kind: 'near', item: { name: 'board', items: [1, 2, 3] }, within: 90000 },
        { kind: 'beyond', item: { name: 'board#2', items: [2] }, side: 'back' },
      ],
      stack: 12000,
      later: false,
      overhang: { front: 0, back: 0, left: 2000, right: 0 },
    })
    expect(p.items[1]).toMatchObject({
      required: false,
      value: 2.5,
      turns: [0, 1, 2, 3],
      decks: [0, 1],
      place: [],
      stack: 0,
    })
    expect(p.items[4]!.place).toEqual([{ kind: 'host', item: { name: 'board#1', items: [1] } }])
    expect(p.items[5]!.overhang).toEqual({ front: 1000, back: 2000, left: 0, right: 3000 })
    expect(p.items[6]!.later).toBe(true)
  })

  it('becomes wires with their ends', () => {
    expect(problem(read(full()), 'plain').wires).toEqual([
      {
        id: 'drive',
        from: { kind: 'exit', exit: 0 },
        to: { kind: 'item', ref: { name: 'brain', items: [0] }, terminal: 'out', at: { x: 59000, y: 2000 } },
        maxLength: 300000,
        loop: 20000,
        conductors: 2,
        gauge: 22,
        colour: 'grey, like "the left one"',
      },
      {
        id: 'feed',
        from: { kind: 'item', ref: { name: 'board', items: [1, 2, 3] }, terminal: 'a1', at: { x: 2000, y: 2000 } },
        to: { kind: 'item', ref: { name: 'brain', items: [0] }, terminal: 'vin', at: { x: 1000, y: 2000 } },
        loop: 0,
        conductors: 1,
      },
      {
        id: 'second',
        from: { kind: 'item', ref: { name: 'board#2', items: [2] }, terminal: 'a1', at: { x: 2000, y: 2000 } },
        to: { kind: 'exit', exit: 1 },
        loop: 0,
        conductors: 1,
      },
    ])
  })
})

describe('defaults', () => {
  it('stand where a project gives only what it must', () => {
    const p = problem(read(small()))
    expect(p).toMatchObject({ variant: 'base', grid: 1000, edgeClearance: 0, itemClearance: 0, minWeb: 2000 })
    expect([p.exits, p.passes, p.zones, p.wires, p.chassis]).toEqual([[], [], [], [], undefined])
    expect(p.objective).toEqual(['free-tie-points', 'optional-value', 'wire-length', 'balance'])
    expect(p.items).toEqual([
      {
        id: 'a',
        base: 'a',
        footprint: footprintToSolver(small().footprints![0]!),
        required: true,
        value: 1,
        turns: [0, 1, 2, 3],
        decks: [0],
        place: [],
        stack: 0,
        later: false,
        overhang: { front: 0, back: 0, left: 0, right: 0 },
      },
    ])
  })

  it('leave a list that is there but empty as the file has it', () => {
    expect(problem(read({ ...small(), objective: [] })).objective).toEqual([])
    expect(problem(read({ ...small(), items: [{ id: 'a', footprint: 'box', decks: [] }] })).items[0]!.decks).toEqual([
      0,
    ])
    expect(problem(read({ ...small(), items: [] })).items).toEqual([])
  })

  it('round lengths to the nearest micrometre', () => {
    const p = small()
    p.decks[0]!.z = 12.34567
    p.settings = { minWeb: 0.0004, edgeClearance: 0.0006 }
    expect(problem(read(p))).toMatchObject({ minWeb: 0, edgeClearance: 1, decks: [{ z: 12346 }] })
  })
})

describe('footprints', () => {
  const box = (id: string, width: number) => ({
    id,
    body: { width, depth: 10, height: 5 },
    mount: { kind: 'adhesive' as const },
  })

  it('inline beats the library', () => {
    const library = new Map([
      ['box', box('box', 99)],
      ['other', box('other', 7)],
    ])
    const project = {
      ...small(),
      items: [
        { id: 'a', footprint: 'box' },
        { id: 'b', footprint: 'other' },
      ],
    }
    const p = toProblem(read(project, library), 'base', library)
    expect(p.items.map((i) => i.footprint.width)).toEqual([20000, 7000])
  })
})

describe('what the format does not know', () => {
  it('is kept at every level, and each is named in a warning', () => {
    const project = full() as unknown as Record<string, unknown>
    const holders: [string, Record<string, unknown>][] = []
    const visit = (path: string, value: unknown): void => {
      if (Array.isArray(value)) for (const [i, v] of value.entries()) visit(`${path}[${i}]`, v)
      else if (typeof value === 'object' && value !== null) {
        holders.push([path, value as Record<string, unknown>])
        for (const [k, v] of Object.entries(value)) visit(path === '' ? k : `${path}.${k}`, v)
      }
    }
    visit('', project)
    // In `items`, `wires` and `decks` of a variant the names are ids.
    const byId = /^variants\[\d+\]\.(items|wires|decks)$/
    const open = holders.filter(([path]) => !byId.test(path))
    for (const [, holder] of open) holder.note = { why: ['kept', 1, null] }
    const r = readProject(JSON.stringify(project), 'f.json', none)
    expect(r.ok && r.value).toEqual(project)
    const paths = open.map(([path]) => (path === '' ? 'note' : `${path}.note`))
    expect(r.warnings.map((w) => w.path).sort()).toEqual(paths.sort())
    expect(paths.length).toBeGreaterThan(60)
    const again = readProject(writeProject(r.ok ? r.value : full()), 'f.json', none)
    expect(again.ok && again.value).toEqual(project)
  })
})

describe('a gauge', () => {
  const warned = (gauge: unknown) => {
    const project = full()
    const [first, ...rest] = project.wires ?? []
    const r = readProject(JSON.stringify({ ...project, wires: [{ ...first, gauge }, ...rest] }), 'f.json', none)
    expect(r.ok).toBe(true)
    return r.warnings.map((w) => [w.path, w.found, w.expected])
  }

  // A(n) = π/4 · (0.127 mm · 92^((36 − n)/39))² (ASTM B258): 53.5 mm² of 0
  it('that is no size of AWG is told, and what would be right', () => {
    const expected =
      'a size of AWG, a whole number from 0 to 50, or a text in square millimetres such as "0.5 mm²", up to 53; as it is, no gauge is read of it'
    for (const gauge of [0.5, 22.5, 75, '0.75', '0,5', '75 AWG', '0.5 mm', '2x0.5 mm²']) {
      expect(warned(gauge)).toEqual([['wires[0].gauge', JSON.stringify(gauge), expected]])
    }
    for (const gauge of [0, 22, '22', 'AWG 22', 'ribbon', '0.5 mm²', '0,75 mm2']) expect(warned(gauge)).toEqual([])
  })
})

describe('the text', () => {
  const text = JSON.stringify(full(), null, 1)
  it.each([
    ['a byte-order mark', `\ufeff${text}`],
    ['CRLF', text.replaceAll('\n', '\r\n')],
    ['both', `\ufeff${text.replaceAll('\n', '\r\n')}\r\n`],
  ])('may have %s', (_, t) => {
    for (const source of [t, new TextEncoder().encode(t)]) {
      const r = readProject(source, 'f.json', none)
      expect(r).toEqual({ ok: true, value: full(), warnings: [] })
    }
  })

  it('may hold any letters', () => {
    const project = { ...small(), name: 'Grüße 🐸 \u2028 "x" \\ \ud800', items: [{ id: 'схема', footprint: 'box' }] }
    expect(read(project)).toEqual(project)
  })
})

describe('messages', () => {
  it('give the line and column that an editor shows', () => {
    const text = JSON.stringify(full(), null, 2).replace('"count": 3', '"count": 0')
    const r = readProject(text, 'robot.json', none)
    const [p] = r.ok ? [] : r.problems
    const lines = text.split('\n')
    expect(p!.path).toBe('items[1].count')
    expect(lines[p!.line! - 1]!.slice(p!.column! - 1)).toBe('0,')
    expect(formatProblem(p!)).toBe(
      `robot.json:${p!.line}:${p!.column}: items[1].count: found 0, expected a whole number from 1 to 200`,
    )
  })
})
