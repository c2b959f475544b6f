/** Variants (contract §3): what replaces, omits, releases and drops, and what goes with it. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { applyVariant, type Project, readProject, variantsOf } from '../../src/model/index.ts'
import { full, none, problem, read, small } from './full-project.ts'

describe('variants', () => {
  const p = () => read(full())

  it('are listed, with `base` where there is none', () => {
    expect(variantsOf(p())).toEqual([
      { id: 'plain', name: 'plain' },
      { id: 'light', name: 'without the top' },
    ])
    expect(variantsOf(small())).toEqual([{ id: 'base', name: 'small' }])
    expect(variantsOf({ ...small(), variants: [] })).toEqual([{ id: 'base', name: 'small' }])
  })

  it('replace, omit, release, null and drop, and leave what they are given alone', () => {
    const project = p()
    const v = applyVariant(project, 'light')
    expect(project).toEqual(full())
    expect(v.variants).toBeUndefined()
    expect(v.settings).toEqual({ grid: 1, edgeClearance: 1, itemClearance: 0.25, minWeb: 3 })
    expect(v.decks.map((d) => [d.id, d.thickness])).toEqual([['main', 4]])
    expect(v.items.map((i) => i.id)).toEqual(['brain', 'board', 'chip', 'arm'])
    expect(v.items[0]).toEqual({
      id: 'brain',
      footprint: 'controller',
      turns: [0],
      decks: ['main'],
      place: [],
      stack: 0,
      overhang: { left: 2 },
    })
    expect(v.items[1]).toMatchObject({ count: 2, required: false })
    expect(v.zones!.map((z) => z.id)).toEqual(['post', 'gear'])
    expect(v.exits!.map((e) => e.id)).toEqual(['motor'])
    expect(v.passes).toEqual([])
    expect(v.wires!.map((w) => [w.id, w.loop])).toEqual([
      ['drive', 5],
      ['feed', undefined],
    ])
    expect(problem(project, 'light').items.map((i) => i.id)).toEqual(['brain', 'board#1', 'board#2', 'chip', 'arm'])
  })

  it('throw for one that is not there', () => {
    expect(() => applyVariant(p(), 'base')).toThrow(RangeError)
    expect(() => applyVariant(small(), 'other')).toThrow(RangeError)
    expect(applyVariant(small(), 'base')).toEqual(small())
  })

  it('leave a place that names an omitted item without indices, and drop its wires', () => {
    const project = full()
    project.items[3]!.place = [{ kind: 'near', item: 'board#3', within: 10 }]
    project.items[2]!.place = []
    project.variants = [{ id: 'v', omit: ['board'], items: { brain: { place: [] } } }]
    const v = problem(read(project), 'v')
    expect(v.items.find((i) => i.id === 'pack')!.place).toEqual([
      { kind: 'near', item: { name: 'board#3', items: [] }, within: 10000 },
    ])
    expect(v.wires.map((w) => w.id)).toEqual(['drive'])
  })

  it('drop the wires of later items, whoever makes them later', () => {
    const project = full()
    project.items[1]!.later = true
    expect(problem(read(project), 'plain').wires.map((w) => w.id)).toEqual(['drive'])
    const patched = full()
    patched.variants = [{ id: 'v', items: { brain: { later: true } } }]
    expect(problem(read(patched), 'v').wires.map((w) => w.id)).toEqual(['second'])
  })

  it('warn of wires that go with a dropped deck, unless the variant says so', () => {
    const project = full()
    delete project.variants![1]!.wires!.second
    const r = readProject(JSON.stringify(project), 'f.json', none)
    expect(r.ok).toBe(true)
    expect(r.warnings.map((w) => w.path)).toEqual(['wires[2]'])
    if (r.ok) expect(problem(r.value, 'light').wires.map((w) => w.id)).toEqual(['drive', 'feed'])
  })

  it('are told what is wrong in what they say of an item or a wire that goes with what they drop', () => {
    const project = full()
    const place = [
      { kind: 'at', deck: 'top', at: [0, 0] },
      { kind: 'near', item: 'pakc', within: 5 },
    ] as NonNullable<Project['items'][number]['place']>
    const wires = { second: { to: { exit: 'lmap' } }, feed: { from: { item: 'zz', terminal: 'a1' }, gauge: 22 } }
    const pack = { footprint: 'cell', decks: ['top', 'mian'], place }
    project.variants = [{ id: 'v', omit: ['pack'], drop: ['top'], items: { pack }, wires }]
    const told = () => {
      const r = readProject(JSON.stringify(project), 'f.json', none)
      return r.ok ? [] : r.problems.map((p) => [p.path, p.found])
    }
    expect(told()).toEqual([
      ['variants[0].items.pack.footprint', '"cell"'],
      ['variants[0].items.pack.decks[1]', '"mian"'],
      ['variants[0].items.pack.place[1].item', '"pakc"'],
      ['variants[0].wires.second.to.exit', '"lmap"'],
      ['variants[0].wires.feed.from.item', '"zz"'],
    ])
    // The other end is at the exit whose deck is dropped, so that the wire goes whatever this one says.
    project.variants[0]!.wires = { second: { from: { item: 'zz', terminal: 'a1' } } }
    project.variants[0]!.items = {}
    expect(told()).toEqual([['variants[0].wires.second.from.item', '"zz"']])
    project.variants[0]!.wires = { second: { from: { item: 'board', terminal: 'a1' }, to: { exit: 'lamp' } } }
    expect(told()).toEqual([])
  })

  it('may count to one: whoever names its first copy means that one, by the id that layouts have', () => {
    const project = full()
    project.variants = [{ id: 'three' }, { id: 'one', items: { board: { count: 1 }, brain: { place: [] } } }]
    project.wires = [{ id: 'feed', from: { item: 'board#1', terminal: 'a1' }, to: { item: 'brain', terminal: 'vin' } }]
    const names = (variant: string) => {
      const { items, wires } = problem(read(project), variant)
      const refs = [items.find((i) => i.id === 'chip')!.place[0]!, wires[0]!.from]
      return refs.map((r) => ('ref' in r ? r.ref : 'item' in r ? r.item : undefined)?.name)
    }
    expect(names('three')).toEqual(['board#1', 'board#1'])
    expect(names('one')).toEqual(['board', 'board'])
    const far = { ...small(), items: [...small().items, { id: 'b', footprint: 'box' }] }
    far.items[0]!.place = [{ kind: 'near', item: 'b#1', within: 0 }]
    const none = solve(problem(read(far))) as { conflict: readonly { items: readonly string[] }[] }
    expect(none.conflict.map((m) => m.items)).toContainEqual(['a', 'b'])
    expect(JSON.stringify(none)).not.toContain('#')
  })

  it('never rename what they speak of', () => {
    const project = full() as unknown as { variants: { items: Record<string, object> }[] }
    project.variants[1]!.items.brain = { id: 'other', place: [] }
    const r = readProject(JSON.stringify(project), 'f.json', none)
    expect(r.warnings.map((w) => w.path)).toEqual(['variants[1].items.brain.id'])
    expect(r.ok && problem(r.value, 'light').items[0]!.id).toBe('brain')
  })

  it('take dropped decks out of the lists of items', () => {
    const project = full()
    project.items[3]!.decks = ['top', 'main']
    project.variants![1]!.omit = []
    const r = read(project)
    expect(problem(r, 'light').items.find((i) => i.id === 'pack')!.decks).toEqual([0])
    expect(problem(r, 'plain').items.find((i) => i.id === 'pack')!.decks).toEqual([1, 0])
  })

  it('may mend what the base alone does not hold', () => {
    const project = full()
    project.items[0]!.footprint = 'contacts' // without the terminals that two wires name
    project.variants = [{ id: 'v', items: { brain: { footprint: 'controller' } } }]
    expect(problem(read(project), 'v').items[0]!.footprint.id).toBe('controller')
  })
})
