/** Assembly sheets and paper dummies of every demo, and of a robot that has every kind of mount. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { mm, type Placement, type Problem } from '../../solver/index.ts'
import { laidLeads } from '../../src/electric/cuts.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import { numberItems, orderOfWork } from '../../src/export/assembly-order.ts'
import { PdfError, pdfPages } from '../../src/export/pdf.ts'
import { drillTable, hardwareList, wireCutList } from '../../src/export/tables.ts'
import { called } from '../../src/model/called.ts'
import { placementsOf, readLayout, readProject, toProblem } from '../../src/model/index.ts'
import { at, deck, item, part, problem, pt, rect, round, screws } from './decks.ts'
import { reading } from './pdf-read.ts'

const root = join(import.meta.dirname, '../..')

/** The demos with the layouts that are kept beside the tests. */
function demos(): { name: string; problem: Problem; placements: readonly Placement[] }[] {
  const folder = join(root, 'tests/fixtures/demos')
  return readdirSync(folder).map((file) => {
    const [name, variant] = file.split('.') as [string, string]
    const read = readProject(readFileSync(join(root, `demo-data/${name}.json`)), name, loadLibrary())
    if (!read.ok) throw new Error(`${name} cannot be read`)
    const demo = toProblem(read.value, variant, loadLibrary())
    const layout = readLayout(readFileSync(join(folder, file)), file)
    if (!layout.ok) throw new Error(`${file} cannot be read`)
    return { name: file, problem: demo, placements: placementsOf(demo, layout.value).placements }
  })
}

const boardWithHead = part(
  'head',
  40,
  20,
  {
    kind: 'drop-in',
    cutout: { x: mm(8), y: mm(4), w: mm(24), h: mm(12) },
    holes: [{ id: 'h', at: pt(3, 10), diameter: mm(2.4), land: mm(0), screw: 'M2' }],
    below: mm(10),
  },
  { head: { pivot: pt(20, 10), pan: [-60, 60], reach: mm(500), tail: mm(15), z: [mm(5), mm(40)] } },
)
const bread = part(
  'bread',
  47,
  35,
  { kind: 'adhesive' },
  {
    breadboard: { pitch: mm(2.54), blocks: [{ at: pt(3, 3), columns: 17, rows: 10, strip: 'column' }] },
    terminals: [{ id: 'a1', at: pt(3, 3) }],
  },
)
const pack = part(
  'cells',
  60,
  30,
  { kind: 'strap', slots: [{ x: mm(20), y: mm(0), w: mm(10), h: mm(2) }] },
  {
    kind: 'pack',
    terminals: [{ id: 'plus', at: pt(58, 10) }],
  },
)
const chip = part(
  'chip',
  12,
  8,
  { kind: 'plug-in' },
  {
    plug: {
      pins: [
        { id: '1', at: pt(1, 1) },
        { id: '2', at: pt(3.54, 1) },
      ],
    },
  },
)
const robot = problem(
  [deck('top', rect(0, 0, 180, 120), { z: mm(90) }), deck('floor', rect(0, 0, 180, 120), { z: mm(40) })],
  [
    item('chip', chip),
    item('bread', bread),
    item('cells', pack),
    item(
      'board',
      part('board', 60, 40, screws([3, 3, 3.4], [57, 37, 3.4]), { terminals: [{ id: 'in', at: pt(5, 5) }] }),
    ),
    item('head', boardWithHead),
    item('arm', part('arm', 30, 30, screws([5, 5, 3.4])), { later: true }),
  ],
  {
    passes: [{ id: 'gap', decks: [0, 1], at: pt(170, 60) }],
    wires: [
      wire('supply', 2, 'plus', pt(58, 10), 3, 'in', pt(5, 5)),
      wire('far', 1, 'a1', pt(3, 3), 3, 'in', pt(5, 5)),
    ],
  },
)
const robotPlaces: Placement[] = [
  { ...at(0, 2, 2, 0, 1), host: 1 },
  at(1, 0, 0, 0, 1),
  at(2, 60, 0, 0, 1),
  at(3, 0, 0, 1, 0),
  at(4, 100, 60, 0, 0),
  at(5, 100, 0, 0, 0),
]

function wire(
  id: string,
  a: number,
  from: string,
  fa: ReturnType<typeof pt>,
  b: number,
  to: string,
  tb: ReturnType<typeof pt>,
) {
  const end = (i: number, terminal: string, where: ReturnType<typeof pt>) =>
    ({ kind: 'item', ref: { name: `${i}`, items: [i] }, terminal, at: where }) as const
  return { id, from: end(a, from, fa), to: end(b, to, tb), loop: mm(0), conductors: 1 }
}

describe('the order of work', () => {
  it('goes from plates through mounts to power, the lower deck before the upper', () => {
    const steps = orderOfWork(robot, robotPlaces)
    const first = (pattern: RegExp): number => {
      const k = steps.findIndex((s) => pattern.test(s))
      expect(k, `${pattern}`).toBeGreaterThanOrEqual(0)
      return k
    }
    const order = [
      /Deck floor: cut .*de-burr/,
      /Deck top: centre-punch and drill 3 holes by the drill table; cut 1 slot or cut-out, the outline last; de-burr/,
      /paper dummies/,
      /Deck floor: strap down 1 cells\. Connect nothing to 1 cells yet\.$/,
      /Deck floor: stick down .* 2 bread/,
      /Deck floor: plug in 3 chip into 2 bread; the first pin/,
      /set deck top above/,
      /Deck top: drop into the cut-outs and screw down 4 head \(1 × M2\)/,
      /Deck top: screw down 5 board \(2 × ⌀3.4 hole, stand-offs 3 mm\)/,
      /Wires from deck to deck.*far/,
      /Supply leads from deck to deck: supply/,
      /meter, power off/,
      /Power last.*supply at the pack/,
      /First power: tracks off the ground/,
    ].map(first)
    expect(order).toEqual([...order].sort((a, b) => a - b))
    expect(steps.join(' ')).not.toContain('arm')
  })

  it('counts the screws of each thread of a part', () => {
    const holes = [
      { id: 'a', at: pt(3, 3), diameter: mm(3.4), land: mm(0), screw: 'M3' },
      { id: 'b', at: pt(27, 3), diameter: mm(3.4), land: mm(0), screw: 'M3' },
      { id: 'c', at: pt(3, 17), diameter: mm(2.9), land: mm(0), screw: 'M2.5' },
    ]
    const mixed = part('mixed', 30, 20, { kind: 'screw', standoff: mm(5), holes })
    const one = problem([deck('d', rect(0, 0, 100, 100))], [item('mixed', mixed)])
    expect(orderOfWork(one, [at(0, 10, 10)]).join(' ')).toContain('1 mixed (2 × M3, 1 × M2.5, stand-offs 5 mm)')
  })

  it('goes by what a part is: no screw for one without holes, and a pack stays off however it is fixed', () => {
    const none = {
      kind: 'drop-in',
      cutout: { x: mm(4), y: mm(4), w: mm(10), h: mm(10) },
      holes: [],
      below: mm(0),
    } as const
    const straps = { kind: 'strap', slots: [] } as const
    const kinds = problem(
      [deck('d', rect(0, 0, 200, 100))],
      [
        item('puck', part('puck', 20, 20, none)),
        item('head', boardWithHead),
        item('cells', part('cells', 60, 30, screws([5, 5, 3.4]), { kind: 'pack' })),
        item('pump', part('pump', 20, 20, straps)),
        item('brain', part('brain', 20, 20, screws())),
      ],
    )
    const steps = orderOfWork(kinds, [at(0, 0, 0), at(1, 30, 0), at(2, 80, 0), at(3, 0, 50), at(4, 30, 50)])
    expect(steps.slice(2, 7)).toEqual([
      'Deck d: drop into the cut-outs and screw down 1 head (1 × M2).',
      'Deck d: drop into the cut-outs 2 puck.',
      'Deck d: screw down 3 cells (1 × ⌀3.4 hole, stand-offs 3 mm). Connect nothing to 3 cells yet.',
      'Deck d: fasten, though no hole for a screw is stated, 4 brain.',
      'Deck d: strap down 5 pump.',
    ])
  })

  it('names every item of every demo that is mounted now, once, and numbers them without gaps', () => {
    for (const { name, problem: demo, placements } of demos()) {
      const items = numberItems(demo, placements)
      const now = items.filter((n) => !n.item.later)
      expect(
        now.map((n) => n.number),
        name,
      ).toEqual(now.map((_, i) => i + 1))
      const steps = orderOfWork(demo, placements)
      for (const n of now) {
        const verbs = /(screw down|strap down|stick down|drop into|plug in)/
        const named = steps.filter((s) => verbs.test(s) && new RegExp(`\\b${n.number} ${n.item.id}(?! ?\\d)`).test(s))
        const host = placements.some((p) => p.host === n.placement.item)
        expect(named.length, `${name}: ${n.item.id}`).toBeGreaterThanOrEqual(1)
        if (!host) expect(named.length, `${name}: ${n.item.id}`).toBe(1)
      }
    }
  })
})

describe('the assembly sheet', () => {
  it("says the usual cautions in the trade's words (common practice, no source)", async () => {
    await reading(await pdfPages(robot, robotPlaces, { parts: ['assembly'] }), async (pages) => {
      const text = pages[0]!.text.replace(/\s+/g, ' ')
      for (const said of [
        /eye protection/i,
        /clamp the work/i,
        /de-burr/i,
        /laser: ventilate/i,
        /never leave it unattended/i,
        /know the material/i,
        /hot iron: keep it in its stand/i,
        /ventilate: draw the fumes/i,
        /wash your hands/i,
        /fuse in the plus lead/i,
        /no bare leads/i,
        /lithium cells: charge them with their own charger/i,
        /other cells: charge only those/i,
        /in sight/i,
        /disconnect every supply before wiring/i,
        /tracks off the ground/i,
        /fingers, hair/i,
        /a switch in reach/i,
        /local codes, the machine's manual and licensed practice come first/i,
      ]) {
        expect(text).toMatch(said)
      }
    })
  })

  it('lists the hardware and wires of the tables, and the items with their turns', async () => {
    for (const { name, problem: demo, placements } of demos().slice(0, 3)) {
      await reading(await pdfPages(demo, placements, { parts: ['assembly'] }), async (pages) => {
        const text = pages
          .map((p) => p.text)
          .join(' ')
          .replace(/\s+/g, ' ')
        for (const row of wireCutList(demo, placements)) expect(text, name).toContain(`${row.cut}`)
        const hardware = hardwareList(demo, placements)
        expect(hardware.length).toBeGreaterThan(0)
        for (const row of hardware) expect(text, name).toContain(row.standard)
        for (const p of placements) expect(text, name).toContain(demo.items[p.item]!.footprint.name.split(' ')[0])
      })
    }
  })

  it('says the same length of a wire in its order of work as in its table', async () => {
    for (const { name, problem: demo, placements } of demos().slice(0, 3)) {
      const laid = laidLeads(demo, placements, WIRING)
      await reading(await pdfPages(demo, placements, { parts: ['assembly'], laid }), async (pages) => {
        const text = pages
          .map((p) => p.text)
          .join(' ')
          .replace(/\s+/g, ' ')
        const rows = wireCutList(demo, placements, [], laid)
        expect(rows.length, name).toBeGreaterThan(0)
        for (const { id, cut, note } of rows) {
          const not = cut === null || note.includes('does not reach')
          expect(text, name).toContain(not ? `${id} (do not cut it yet` : `${id} (${cut} mm)`)
        }
      })
    }
  })
})

describe('the table of wires', () => {
  const names = Array.from({ length: 30 }, (_, i) => `part-${i + 1}-with-a-long-name`)

  it('says all that its notes say, what not to do first, however much is in the way', async () => {
    const laid = [{ wire: 0, by: names }]
    const { note } = wireCutList(robot, robotPlaces, [], laid)[0]!
    expect(note).toMatch(/^do not cut it yet, make room or measure with a thread: /)
    await reading(await pdfPages(robot, robotPlaces, { parts: ['assembly'], laid }), async (pages) => {
      const text = pages.map((p) => p.text).join(' ')
      for (const name of names) expect(text.replace(/\s+/g, ''), name).toContain(name)
    })
  })
})

describe('paper dummies', () => {
  it('show every part of every demo once, at its size', async () => {
    for (const { name, problem: demo, placements } of demos()) {
      await reading(await pdfPages(demo, placements, { parts: ['dummies'] }), async (pages) => {
        const text = pages
          .map((p) => p.text)
          .join(' ')
          .replace(/\s+/g, ' ')
        for (const p of placements) {
          const { id, footprint: f } = demo.items[p.item]!
          expect(text, name).toContain(called(id))
          expect(text, name).toContain(`${f.width / 1000} × ${f.depth / 1000} × ${f.height / 1000} mm`)
        }
      })
    }
  })
})

describe('one file with everything', () => {
  it('has template, assembly and dummies in this order, or only what is asked for', async () => {
    await reading(await pdfPages(robot, robotPlaces), async (pages) => {
      const kinds = pages.map((p) => /(deck \w+|assembly|paper dumm)/.exec(p.text)![1])
      expect([...new Set(kinds)]).toEqual(['deck floor', 'deck top', 'assembly', 'paper dumm'])
      for (const p of pages) expect(p.text).toContain('Print at 100 %, not fit to page, and measure this bar')
      const table = drillTable(robot, robotPlaces, 0)
      const tile = pages.find((p) => /deck top: sheet 1/.test(p.text))!
      for (const row of table) expect(tile.text).toContain(`${row.number} ⌀${row.diameter}`)
    })
    await reading(await pdfPages(robot, robotPlaces, { parts: ['template'], deck: 0 }), async (pages) => {
      expect(pages.every((p) => p.text.includes('deck top'))).toBe(true)
    })
    const empty = problem([deck('d', round(50, 50, 40))], [])
    await expect(pdfPages(empty, [], { parts: ['dummies'] })).rejects.toThrow(PdfError)
    await reading(await pdfPages(empty, []), async (pages) => {
      expect(pages.length).toBeGreaterThanOrEqual(4)
    })
  })
})
