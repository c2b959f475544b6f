/** What the workshop is told, and what comes back from it, in the store. */
import { describe, expect, it } from 'vitest'
import { mm, solve } from '../../solver/index.ts'
import { addsFewest } from '../../src/model/index.ts'
import { inWords, keepShop, recallShop, SHELF_KEY, SHOP } from '../../src/store/export-settings.ts'
import { isBuilt, making } from '../../src/store/making.ts'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { words } from '../../src/words/index.ts'
import { files, handPool, project } from './store-sample.ts'

const screwed = (id: string, width: number, holes: readonly (readonly [number, number])[]) => ({
  format: 'deckwright-footprint',
  version: 1,
  id,
  name: id,
  source: 'invented',
  kind: 'part',
  body: { width, depth: 20, height: 5 },
  mount: {
    kind: 'screw',
    standoff: 5,
    holes: holes.map((at, i) => ({ id: `h${i + 1}`, at, diameter: 3.2, screw: 'M3' })),
  },
})

const strapped = {
  ...screwed('bundle', 24, []),
  mount: {
    kind: 'strap',
    slots: [
      [2, 2, 2, 16],
      [20, 2, 2, 16],
    ],
  },
}

const workshop = {
  ...project,
  name: 'Puddle prober',
  footprints: [
    screwed('plate', 30, [
      [4, 4],
      [26, 16],
    ]),
    strapped,
  ],
  items: [
    { id: 'plate', footprint: 'plate' },
    { id: 'bundle', footprint: 'bundle' },
  ],
  wires: [],
  variants: [{ id: 'whole' }, { id: 'bare', omit: ['bundle'] }],
}

async function open(value: unknown = workshop) {
  const opened = files.open(JSON.stringify(value), 'puddle.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  const { pool, asked } = handPool()
  const { store, actions } = createDeckwright(files, pool, opened.doc)
  const answer = async (): Promise<void> => {
    for (const one of asked.splice(0)) if (!one.cancelled) await one.give(solve(one.problem, one.options))
  }
  await answer()
  const doc = () => store.getState().history.doc
  const sheet = () => doc().sheets[store.getState().active]!
  const layout = () => shown(store.getState(), sheet())
  const holes = () => doc().project.decks[0]!.holes ?? []
  const said = () => making(sheet().problem, layout())
  const steps = () => store.getState().history.past.length
  return { store, actions, answer, doc, sheet, layout, holes, said, steps }
}

describe('what was built', () => {
  it('becomes part of the deck in one step, under a layout that stays, and is reused by it', async () => {
    const s = await open()
    const before = s.layout()
    expect(s.said().becomes).toBe('2 holes and 2 slots become part of the deck.')
    expect(s.said().reuse).toBe('This layout needs 2 holes and 2 slots, all new.')
    const how = () => words.making.madeHow('', addsFewest(s.sheet().problem.objective))
    expect(how()).toContain('fewest new holes is put among what matters, before short wires and balance')
    expect(isBuilt(s.sheet().problem)).toBe(false)
    expect(s.actions.build()).toEqual([])
    await s.answer()
    expect(s.steps()).toBe(1)
    expect(s.layout()).toEqual(before)
    expect(s.holes().map((h) => h.id)).toEqual(['built-1', 'built-2'])
    expect(s.doc().project.decks[0]!.openings?.map((o) => o.id)).toEqual(['built-slot-1', 'built-slot-2'])
    expect(isBuilt(s.sheet().problem)).toBe(true)
    expect(s.doc().project.objective).toContain('new-holes')
    expect(how()).not.toContain('what matters')
    expect(s.said()).toEqual({
      becomes: undefined,
      reuse: 'This layout reuses 2 holes and 2 slots, and needs no new one.',
    })
    expect(viewOf(s.store.getState(), 0)!.findings).toEqual([])
    // Twice is once: not even a step.
    expect(s.actions.build()).toEqual([])
    expect(s.steps()).toBe(1)
    s.actions.undo()
    expect(s.holes()).toEqual([])
    expect(s.layout()).toEqual(before)
    s.actions.redo()
    expect(s.holes()).toHaveLength(2)
  })

  it('keeps what is held, in every variant', async () => {
    const s = await open()
    s.actions.choose(1)
    s.actions.hold('plate')
    await s.answer()
    const held = s.layout()
    s.actions.choose(0)
    s.actions.build()
    await s.answer()
    s.actions.choose(1)
    expect(s.sheet().holds).toEqual(['plate'])
    expect(s.layout()).toEqual(held)
  })

  it('gives back to the file what it gave to the deck', async () => {
    const s = await open()
    s.actions.build()
    await s.answer()
    const again = files.open(s.actions.save().text, 'puddle.json')
    expect(again.kind).toBe('opened')
    if (again.kind === 'opened') expect(again.doc.project.decks[0]!.holes).toEqual(s.holes())
  })
})

describe('a hole that came out elsewhere', () => {
  it('is put right in one step, and the layout goes after it', async () => {
    const s = await open()
    s.actions.build()
    await s.answer()
    const [hole] = s.holes()
    const [x, y] = hole!.at
    // Nearer to the middle of the plate, so that the item can follow.
    const way = x < 50 ? 1 : -1
    expect(s.actions.moveHole('main', 'built-1', [x + way, y])).toEqual([])
    await s.answer()
    expect(s.steps()).toBe(2)
    expect(s.holes()[0]!.at).toEqual([x + way, y])
    // Its two holes are no longer as far apart as the part's are, so they cannot both be reused; here neither is.
    expect(s.said().reuse).toBe('This layout reuses 2 slots, needs 2 new holes.')
    expect(viewOf(s.store.getState(), 0)!.findings).toEqual([])
  })

  it('beyond the deck, or of no such name, changes nothing and says what would be right', async () => {
    const s = await open()
    s.actions.build()
    const doc = s.doc()
    expect(s.actions.moveHole('main', 'built-1', [500, 5])).toMatchObject([{ path: 'at' }])
    expect(s.actions.moveHole('main', 'built-9', [5, 5])).toMatchObject([{ path: 'hole', found: '"built-9"' }])
    expect(s.actions.moveHole('attic', 'built-1', [5, 5])).toMatchObject([{ path: 'deck' }])
    expect(s.doc()).toBe(doc)
  })
})

describe('another project in place of this one', () => {
  it('that cannot be read is refused whole', async () => {
    const s = await open()
    const doc = s.doc()
    const [deck] = doc.project.decks
    const wrong = s.actions.change({
      ...doc.project,
      decks: [
        { ...deck!, id: 'other' },
        { ...deck!, id: 'other' },
      ],
    })
    expect(wrong.length).toBeGreaterThan(0)
    expect(wrong[0]!.path).toMatch(/^decks/)
    expect(s.doc()).toBe(doc)
    expect(s.steps()).toBe(0)
  })

  it('with another outline keeps the items, and lays them out anew where they no longer lie on it', async () => {
    const s = await open()
    const { project: old } = s.doc()
    const smaller = { ...old.decks[0]!, outline: { rect: [0, 0, 40, 60] as [number, number, number, number] } }
    expect(s.actions.change({ ...old, decks: [smaller] })).toEqual([])
    await s.answer()
    expect(viewOf(s.store.getState(), 0)!.findings).toEqual([])
    for (const p of s.layout()) expect(p.at.x).toBeLessThan(mm(40))
    s.actions.undo()
    expect(s.doc().project).toBe(old)
  })
})

describe("the workshop's settings", () => {
  const shelfWith = (text: string | null) => {
    const kept = { text }
    return {
      kept,
      getItem: (key: string) => (key === SHELF_KEY ? kept.text : null),
      setItem: (_: string, value: string) => {
        kept.text = value
      },
    }
  }

  it('are there again the next time', () => {
    const shelf = shelfWith(null)
    expect(recallShop(shelf)).toEqual(SHOP)
    const own = { ...SHOP, kerf: 0.18, tabs: 4, dxf: 'r12', paper: 'Letter', colours: { cut: '#ff0000' } } as const
    expect(keepShop(shelf, own)).toBe(true)
    expect(recallShop(shelf)).toEqual(own)
    expect(inWords(own)).toBe('a kerf of 0.18 mm, 4 tabs of 1.5 mm in each larger cut line, your colours')
    expect(inWords(SHOP)).toBe('')
  })

  it('are taken field by field where something strange was kept', () => {
    const strange = {
      kerf: -3,
      tabs: 2.4,
      tabWidth: '1',
      laserHoles: true,
      dxf: 'r9',
      colours: { cut: 'url(x)', sky: '#123456' },
    }
    expect(recallShop(shelfWith(JSON.stringify(strange)))).toEqual({ ...SHOP, tabs: 2, laserHoles: true })
    for (const text of ['', 'null', '[]', '{', '7']) expect(recallShop(shelfWith(text))).toEqual(SHOP)
  })

  it('are forgotten in peace where the browser keeps nothing', () => {
    const closed = {
      getItem: (): string => {
        throw new Error('denied')
      },
      setItem: (): void => {
        throw new Error('full')
      },
    }
    expect(recallShop(closed)).toEqual(SHOP)
    expect(keepShop(closed, SHOP)).toBe(false)
    expect(keepShop(undefined, SHOP)).toBe(false)
  })
})
