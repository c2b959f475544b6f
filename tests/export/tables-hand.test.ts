/** Tables of small hand-made decks; every expected number is worked out in a comment or read off the deck. */
import { parse } from 'csv-parse/sync'
import { describe, expect, it } from 'vitest'
import { type Mount, type MountHole, mm, type Wire } from '../../solver/index.ts'
import { billOfItems, drillNotes, drillTable, hardwareList, headerPins, wireCutList } from '../../src/export/tables.ts'
import { drillCsv, hardwareCsv, headerCsv, wireCsv } from '../../src/export/tables-columns.ts'
import { stripsOf } from '../../src/model/header-strips.ts'
import { at, deck, item, part, problem, pt, rect, round } from './decks.ts'

const hole = (id: string, x: number, y: number, diameter: number, screw?: string, land = 0): MountHole => ({
  id,
  at: pt(x, y),
  diameter: mm(diameter),
  land: mm(land),
  ...(screw === undefined ? {} : { screw }),
})
const screwed = (standoff: number, ...holes: MountHole[]): Mount => ({ kind: 'screw', standoff: mm(standoff), holes })
const csvRows = (text: string) => parse(text, { columns: true }) as Record<string, string>[]

describe('the drill table', () => {
  const plate = deck('plate', rect(-10, 5, 100, 80), { holes: [{ id: 'old', at: pt(40, 20), diameter: mm(3.5) }] })
  const p = problem(
    [plate, deck('upper', rect(0, 0, 50, 50))],
    [
      item('wide', part('w', 20, 20, screwed(0, hole('a', 15, 5, 4.5, 'M4'), hole('b', 5, 5, 2.96)))),
      item('odd', part('o', 20, 10, screwed(0, hole('a', 10, 5, 3.4, 'M2.5'), hole('b', 2, 5, 0.6)))),
      item('kept', part('k', 20, 10, screwed(0, hole('a', 10, 5, 3.4, 'M3'))), { later: true }),
      item('again', part('r', 20, 10, screwed(0, hole('a', 10, 5, 3.4, 'M3'), hole('b', 2, 5, 20)))),
      item('above', part('u', 20, 10, screwed(0, hole('a', 10, 5, 3.4, 'M3')))),
    ],
  )
  // `again`'s hole a falls at 40, 20, on the old one; turned by 1, (15, 5) of `wide` goes to (20 − 5, 15).
  const placed = [at(0, 0, 30, 1), at(1, 60, 40), at(2, 60, 10), at(3, 30, 15), at(4, 5, 5, 0, 1)]
  const rows = drillTable(p, placed, 0)

  it('lists what is to be made, drill by drill, then by x and y', () => {
    expect(rows.map((r) => [r.number, r.item, r.hole, r.x, r.y, r.diameter, r.tool])).toEqual([
      [1, 'wide', 'b', 15, 35, 2.96, 3],
      [2, 'odd', 'a', 70, 45, 3.4, 3.4],
      [3, 'wide', 'a', 15, 45, 4.5, 4.5],
      [4, 'again', 'b', 32, 20, 20, null],
      [5, 'odd', 'b', 62, 45, 0.6, null],
    ])
    expect(drillTable(p, placed, 1).map((r) => [r.number, r.item, r.x, r.y])).toEqual([[1, 'above', 15, 10]])
    expect(drillTable(p, [...placed].reverse(), 0)).toEqual(rows)
  })

  it('says from where it measures', () => {
    expect(rows.map((r) => [r.fromLeft, r.fromLower])).toEqual([
      [25, 30],
      [80, 40],
      [25, 40],
      [42, 15],
      [72, 40],
    ])
    expect(drillNotes(p, 0)[1]).toBe(
      "0,0 lies 10 mm to the right of and 5 mm below the lower-left corner of the outline's bounding box.",
    )
    expect(drillNotes(p, 1)[1]).toBe("0,0 lies on the lower-left corner of the outline's bounding box.")
  })

  it('says what a hole is for, and what is odd about it', () => {
    expect(rows.map((r) => [r.thread, r.fit, r.note])).toEqual([
      ['', '', 'the drill is 0.04 mm wider than the hole'],
      ['M2.5', '', 'not a clearance hole of ISO 273 for M2.5 (2.7, 2.9, 3.1)'],
      ['M4', 'M4 medium, H13', ''],
      ['', '', 'no drill of the standard series from 1 to 13.9 mm: use a step drill, a hole saw or the cutter'],
      ['', '', 'no drill of the standard series from 1 to 13.9 mm: use a step drill, a hole saw or the cutter'],
    ])
  })

  it('reads back from CSV', () => {
    const back = csvRows(drillCsv(rows))
    expect(back.map((r) => [r['x mm'], r['y mm'], r['drill mm']])).toEqual(
      rows.map((r) => [String(r.x), String(r.y), r.tool === null ? '' : String(r.tool)]),
    )
  })
})

describe('the hardware list', () => {
  const list = (mount: Mount, more = {}, thickness = 4) => {
    const f = part('p', 86, 38, mount, { height: mm(16), ...more })
    return hardwareList(problem([deck('d', rect(0, 0, 200, 200), { thickness: mm(thickness) })], [item('p', f)]), [
      at(0, 5, 5),
    ])
  }

  it('makes a screw as long as what it goes through', () => {
    const four = [1, 2, 3, 4].map((k) => hole(`h${k}`, 10 * k, 10, 2.9, 'M2.5', 6))
    // 1.6 board + 5 stand-off + 4 deck + 0.5 washer + 2 nut + 0.45 pitch = 13.55 → 16.
    const rows = list(screwed(5, ...four), { kind: 'board' })
    expect(rows.map((r) => [r.amount, r.what, r.standard, r.length])).toEqual([
      [4, 'M2.5 × 16 socket head cap screw', 'ISO 4762', 16],
      [4, 'M2.5 plain washer, ⌀ 6 mm', 'ISO 7089', null],
      [4, 'M2.5 hexagon nut, 5 mm across flats', 'ISO 4032', null],
      [4, 'stand-off 5 mm, plain, clear of M2.5', '', 5],
    ])
    expect(rows[0]!.note).toBe('through board 1.6 mm (assumed: measure it), stand-off 5 mm, deck 4 mm, washer, nut')
    expect(rows[0]!.items).toEqual([{ item: 'p', amount: 4 }])
    // A foot right on the deck: 2 + 4 + 0.5 + 2.4 + 0.5 = 9.4 → 10; on a 5 mm deck 10.4 → 12.
    expect(list(screwed(0, hole('h', 5, 5, 3.4, 'M3')))[0]!.length).toBe(10)
    expect(list(screwed(0, hole('h', 5, 5, 3.4, 'M3')), {}, 5)[0]!.length).toBe(12)
    // Exactly a length: 2 + 4.6 + 0.5 + 2.4 + 0.5 = 10.
    expect(list(screwed(0, hole('h', 5, 5, 3.4, 'M3')), {}, 4.6)[0]!.length).toBe(10)
  })

  it('never makes a screw shorter or longer than its standard lists', () => {
    // 2 + 0.5 + 1 + 4.7 + 0.8 = 9 → 10, and M5 starts at 8; 2 + 20 + 30 … is beyond M2.
    expect(list(screwed(0, hole('h', 5, 5, 5.5, 'M5')), {}, 0.5)[0]!.length).toBe(10)
    const far = list(screwed(20, hole('h', 5, 5, 2.4, 'M2')), {}, 3)[0]!
    expect(far.length).toBeNull()
    // 1.6 + 20 + 3 + 0.3 + 1.6 + 0.4 = 26.9.
    expect(far.note).toContain('needs 26.9 mm, longer than the 20 mm that ISO 4762 lists for M2')
  })

  it('says where a thread is not stated, and which it may be', () => {
    const told = (diameter: number, screw?: string) => {
      const [row] = list(screwed(0, hole('h', 5, 5, diameter, screw)))
      expect(row!.length).toBeNull()
      return [row!.what, row!.note.split(';')[0]]
    }
    const unstated = 'screw, nut and washer, thread not stated'
    expect(told(3.4)).toEqual([unstated, 'the hole of 3.4 mm is the medium clearance hole of M3 (ISO 273)'])
    expect(told(3.2)).toEqual([unstated, 'the hole of 3.2 mm is the fine clearance hole of M3 (ISO 273)'])
    expect(told(3)).toEqual([unstated, 'the hole of 3 mm would take M2.5 (ISO 273: fine 2.7, medium 2.9, coarse 3.1)'])
    expect(told(4)[1]).toContain('is loose for M3')
    expect(told(2)[1]).toContain('narrower than the clearance holes of ISO 273 from M2 on')
    expect(told(6.5)[1]).toContain('wider than the clearance holes of ISO 273 up to M5')
    expect(told(7, 'M6')).toEqual(['M6 screw, nut and washer', 'no data for M6 here'])
  })

  it('tells of heads and washers that are wider than the land', () => {
    const rows = list(screwed(0, hole('h', 5, 5, 3.4, 'M3', 5)))
    expect(rows[0]!.note).toContain('its head of 5.68 mm is wider than the land of 5 mm')
    expect(rows[1]!.note).toBe('wider than the land of 5 mm')
  })

  it('runs a strap round body and deck', () => {
    const slot = (x: number, y: number, w: number, h: number) => ({ x: mm(x), y: mm(y), w: mm(w), h: mm(h) })
    // Twice (38 + 16 + 4) = 116, and 40 to close: 156 → 160, once for each pair of facing slots.
    const slots = [slot(24, 0.5, 16, 3), slot(54, 34.5, 16, 3), slot(24, 34.5, 16, 3), slot(54, 0.5, 16, 3)]
    const rows = list({ kind: 'strap', slots }, { kind: 'pack' })
    expect(rows.map((r) => [r.amount, r.what, r.length])).toEqual([[2, 'strap up to 16 mm wide', 160]])
    // Slots outside the body: from −2 to 88 is 90; twice (90 + 16 + 4) = 220, → 260.
    const beside = [slot(-2, 10, 2, 20), slot(86, 10, 2, 18)]
    expect(list({ kind: 'strap', slots: beside }).map((r) => [r.amount, r.what, r.length])).toEqual([
      [1, 'strap up to 18 mm wide', 260],
    ])
    // Of three that face each other the outermost make the strap: 2 (92 + 16 + 4) = 224, → 270; the one between is left alone.
    const three = [slot(1, 10, 2, 20), slot(40, 10, 2, 20), slot(90, 10, 2, 20)]
    expect(list({ kind: 'strap', slots: three }).map((r) => [r.amount, r.length])).toEqual([
      [1, null],
      [1, 270],
    ])
    const alone = list({ kind: 'strap', slots: [slot(24, 0.5, 16, 3)] })
    expect(alone.map((r) => r.length)).toEqual([null])
    expect(list({ kind: 'strap', slots: [] }).map((r) => r.note)).toEqual(['the footprint has no slots for it'])
  })

  it('counts adhesive in cm² and drop-in parts by their cut-outs', () => {
    // 8.6 cm × 3.8 cm.
    expect(list({ kind: 'adhesive' }).map((r) => [r.amount, r.unit])).toEqual([[32.7, 'cm²']])
    const cutout = { x: mm(10), y: mm(4), w: mm(41), h: mm(20.6) }
    const rows = list({ kind: 'drop-in', cutout, below: mm(30), holes: [hole('h', 5, 5, 3.4, 'M3')] })
    expect(rows.map((r) => r.kind)).toEqual(['screw', 'washer', 'nut', 'drop-in'])
    expect(rows[3]!.what).toBe('part dropped into a cut-out of 41 × 20.6 mm')
  })

  it('adds up over items and leaves out what comes later', () => {
    const f = part('p', 20, 20, screwed(0, hole('h', 5, 5, 3.4, 'M3')))
    const p = problem(
      [deck('d', rect(0, 0, 200, 200))],
      [item('a', f), item('b', f), item('c', f, { later: true }), item('left-out', f)],
    )
    const rows = hardwareList(p, [at(1, 50, 50), at(2, 90, 90), at(0, 5, 5)])
    expect(rows.map((r) => r.amount)).toEqual([2, 2, 2])
    expect(rows[0]!.items).toEqual([
      { item: 'a', amount: 1 },
      { item: 'b', amount: 1 },
    ])
    expect(csvRows(hardwareCsv(rows))[0]!.for).toBe('a (1), b (1)')
  })
})

describe('the bill of items', () => {
  it('counts plates and parts, and what comes later apart', () => {
    const f = part('p', 20, 10, { kind: 'adhesive' }, { name: 'box', mass: 7 })
    const p = problem(
      [deck('d', round(20, 20, 20), { material: 'plywood' })],
      [item('a#1', f), item('a#2', f), item('b', f, { later: true }), item('left-out', f)],
    )
    const rows = billOfItems(p, [at(2, 60, 5), at(1, 30, 5), at(0, 5, 5)])
    expect(rows.map((r) => [r.kind, r.id, r.count, r.items, r.width, r.depth, r.mass])).toEqual([
      ['deck', 'd', 1, [], 40, 40, null],
      ['item', 'p', 2, ['a#1', 'a#2'], 20, 10, 7],
      ['item', 'p', 1, ['b'], 20, 10, 7],
    ])
    expect([rows[0]!.note, rows[1]!.note]).toEqual(['plywood', ''])
    expect(rows[2]!.note).toContain('later')
  })
})

describe('the wire cut list', () => {
  const terminal = { terminals: [{ id: 't', at: pt(0, 0), name: 'pin 1' }] }
  const f = part('p', 10, 10, { kind: 'adhesive' }, terminal)
  const end = (index: number, name: string) =>
    ({ kind: 'item', ref: { name, items: [index] }, terminal: 't', at: pt(0, 0) }) as const
  const wires: Wire[] = [
    {
      id: 'feed',
      from: { kind: 'exit', exit: 0 },
      to: end(0, 'a'),
      loop: mm(10),
      conductors: 2,
      gauge: 22,
      colour: '-red',
    },
    { id: 'link', from: end(0, 'a'), to: end(1, 'b'), loop: mm(0), conductors: 1 },
  ]
  const exits = [{ id: 'lead', deck: 0, at: pt(0, 0), free: mm(80) }]
  const p = problem([deck('d', rect(0, 0, 100, 100))], [item('a', f), item('b', f)], { wires, exits })

  it('gives ends, length and cut', () => {
    const rows = wireCutList(p, [at(0, 20, 30), at(1, 50, 50)])
    expect(rows).toEqual([
      {
        id: 'feed',
        from: 'lead at lead',
        to: 'a, t (pin 1)',
        here: true,
        gauge: 22,
        colour: '-red',
        conductors: 2,
        length: 50,
        cut: 60,
        longest: 60,
        longestIn: 'base',
        note: 'the lead is there already, 80 mm free beyond the deck',
        keep: null,
        keepFor: '',
      },
      expect.objectContaining({ id: 'link', gauge: '', colour: '', length: 50, cut: 50, note: '' }),
    ])
    expect(csvRows(wireCsv(rows))[0]).toMatchObject({ colour: "'-red", gauge: '22', 'cut length mm': '60' })
  })

  it('gives the longest cut over the variants, and wires that only they have', () => {
    const other = problem([deck('d', rect(0, 0, 100, 100))], [item('a', f), item('b', f)], {
      exits,
      wires: [...wires, { ...wires[1]!, id: 'extra', loop: mm(5) }],
    })
    const rows = wireCutList(
      p,
      [at(0, 20, 30), at(1, 50, 50)],
      [{ id: 'far', problem: other, placements: [at(0, 40, 30), at(1, 50, 50)] }],
    )
    expect(rows.map((r) => [r.id, r.length, r.cut, r.longest, r.longestIn, r.note])).toEqual([
      ['feed', 50, 60, 80, 'far', 'the lead is there already, 80 mm free beyond the deck'],
      ['link', 50, 50, 50, 'base', ''],
      ['extra', null, null, 35, 'far', 'only in variant far'],
    ])
  })

  it('names every variant of a wire that this one has not', () => {
    const few = problem([deck('d', rect(0, 0, 100, 100))], [item('a', f), item('b', f)], { exits, wires: [wires[1]!] })
    const places = [at(0, 20, 30), at(1, 50, 50)]
    const rows = wireCutList(few, places, [
      { id: 'near', problem: p, placements: places },
      { id: 'far', problem: p, placements: [at(0, 40, 30), at(1, 50, 50)] },
    ])
    expect(rows.map((r) => [r.id, r.longest, r.longestIn, r.note])).toEqual([
      ['link', 50, 'base', ''],
      ['feed', 80, 'far', 'only in variants near, far; the lead is there already, 80 mm free beyond the deck'],
    ])
  })

  it('leaves out a wire with an end that is not placed', () => {
    expect(wireCutList(p, [at(0, 20, 30)]).map((r) => r.id)).toEqual(['feed'])
  })
})

describe('header pins', () => {
  const plug = (...pins: (readonly [number, number])[]) =>
    part('h', 40, 40, { kind: 'plug-in' }, { plug: { pins: pins.map(([x, y], i) => ({ id: `${i}`, at: pt(x, y) })) } })
  const row = (n: number, x: number, y: number, step = 2.54): [number, number][] =>
    Array.from({ length: n }, (_, k) => [x + k * step, y])

  it('are straight runs of the pitch', () => {
    expect(stripsOf(plug(...row(15, 1, 1), ...row(15, 1, 16.24)))).toEqual([15, 15])
    expect(stripsOf(plug(...row(3, 1, 1), ...row(4, 13.7, 1)))).toEqual([4, 3])
    expect(stripsOf(plug([1, 1], [8.62, 1]))).toEqual([1, 1])
    expect(stripsOf(plug(...row(4, 1, 1).map(([x, y]) => [y, x] as const)))).toEqual([4])
    // An L: the longer run keeps the corner.
    expect(stripsOf(plug(...row(5, 1, 1), [1, 3.54], [1, 6.08]))).toEqual([5, 2])
    expect(stripsOf(plug(...row(4, 1, 1, 2)))).toEqual([1, 1, 1, 1])
  })

  it('are counted over the parts that are placed now', () => {
    const p = problem(
      [deck('d', rect(0, 0, 200, 200))],
      [
        item('a', plug(...row(6, 1, 1), ...row(6, 1, 8.62))),
        item('b', plug(...row(6, 1, 1))),
        item('c', plug(...row(6, 1, 1)), { later: true }),
        item('d', plug(...row(6, 1, 1))),
        item('e', plug([1, 1], [8.62, 1])),
      ],
    )
    const rows = headerPins(p, [at(0, 0, 0), at(1, 50, 0), at(2, 90, 0), at(4, 120, 0)])
    expect(rows.map((r) => [r.pins, r.count, r.items])).toEqual([
      [6, 3, ['a', 'a', 'b']],
      [1, 2, ['e', 'e']],
    ])
    expect([rows[0]!.note === '', rows[1]!.note === '']).toEqual([true, false])
    // a part that needs two is named once, with how many
    expect(headerCsv(rows).split(/\r?\n/).slice(1, 3)).toEqual([
      '6,3,2.54,"a (2), b",',
      expect.stringMatching(/^1,2,2\.54,e \(2\),/),
    ])
  })
})
