/** Files that are chosen or dropped: each kind does what it can, and nothing but a sound one changes the document. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { formatOf } from '../../src/model/format-of.ts'
import { layoutOf, writeLayout } from '../../src/model/index.ts'
import { arrive } from '../../src/store/arrive.ts'
import { arriveAll } from '../../src/store/arrive-all.ts'
import { createStart } from '../../src/store/start.ts'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { files, handPool, project, solvedSample, text } from './store-sample.ts'

const bytes = (value: string): Uint8Array => new TextEncoder().encode(value)
const docOf = (here: Awaited<ReturnType<typeof solvedSample>>) => here.store.getState().history.doc
const withEnd = async () => ({ ...(await solvedSample()), end: () => {} })

describe('a file that arrives', () => {
  it('opens as a project', async () => {
    const here = await withEnd()
    expect(arrive(here, bytes(text({ ...project, name: 'Other' })), 'other.json')).toEqual({ kind: 'opened' })
    expect(docOf(here).project.name).toBe('Other')
  })

  it.each([
    ['of a newer version', text({ ...project, version: 2 }), 'version', /newer version/],
    ['with a bad field', text({ ...project, items: [{ id: 'a', footprint: 'nowhere' }] }), 'items[0].footprint', /./],
    ['that is no JSON', '{"format": "deckwright-project",', '', /field name/],
    ['of no format', '[1]', '', /an object/],
  ])('as a project %s leaves the document and names the field', async (_, source, path, expected) => {
    const here = await withEnd()
    const before = here.store.getState().history
    expect(arrive(here, bytes(source), 'bad.json')).toEqual({ kind: 'refused' })
    expect(here.store.getState().history).toBe(before)
    const [first] = here.store.getState().broken!.problems
    expect(first).toMatchObject({ file: 'bad.json', path })
    expect(first!.expected).toMatch(expected)
  })

  it('as a layout is laid out in its variant, as one step', async () => {
    const here = await withEnd()
    const problem = docOf(here).sheets[1]!.problem
    const layout = layoutOf(problem, solve(problem), 0)
    const moved = { ...layout, placements: layout.placements.map((p) => ({ ...p, at: [p.at[0], p.at[1]] })) }
    expect(arrive(here, bytes(writeLayout(moved as typeof layout)), 'bare.json')).toEqual({ kind: 'laid' })
    expect(here.store.getState().active).toBe(1)
    expect(here.store.getState().history.past.length).toBe(1)
    expect(shown(here.store.getState(), docOf(here).sheets[1]!).length).toBe(layout.placements.length)
    here.actions.undo()
    expect(here.store.getState().history.past.length).toBe(0)
  })

  it('as a layout of another project is refused with what it names', async () => {
    const here = await withEnd()
    const before = here.store.getState().history
    const layout = {
      format: 'deckwright-layout',
      version: 1,
      placements: [{ item: 'stranger', deck: 'main', at: [1, 1], turn: 0 }],
    }
    expect(arrive(here, bytes(text(layout)), 'far.json')).toEqual({ kind: 'refused' })
    expect(here.store.getState().history).toBe(before)
    expect(here.store.getState().broken).toMatchObject({ file: 'far.json', kind: 'layout' })
    expect(here.store.getState().broken!.problems).toMatchObject([
      { path: 'placements', found: 'the item "stranger"', expected: expect.stringMatching(/^one of "/) },
    ])
    expect(arrive(here, bytes(text({ ...layout, variant: 'none' })), 'far.json')).toEqual({ kind: 'refused' })
    expect(here.store.getState().broken!.problems[0]!.path).toBe('variant')
  })

  it('as a part becomes one of the project, as one step; a bad one names its field', async () => {
    const here = await withEnd()
    const part = { ...project.footprints[0]!, id: 'slab', name: 'slab' }
    expect(arrive(here, bytes(text(part)), 'slab.json')).toEqual({ kind: 'part', name: 'slab', replaced: false })
    expect(docOf(here).project.footprints?.at(-1)?.id).toBe('slab')
    expect(here.store.getState().history.past.length).toBe(1)
    expect(arrive(here, bytes(text({ ...part, kind: 'cloud' })), 'bad.json')).toEqual({ kind: 'refused' })
    expect(here.store.getState().broken!.problems[0]).toMatchObject({ file: 'bad.json', path: 'kind' })
  })

  it('of another kind is told what it is, or is to be looked at before it is taken', async () => {
    const here = await withEnd()
    const before = here.store.getState().history
    const as = (source: string, file: string) => arrive(here, bytes(source), file)
    expect(as('<svg/>', 'plate.svg')).toEqual({ kind: 'bring', as: 'deck' })
    expect(as('0\nSECTION', 'PLATE.DXF')).toEqual({ kind: 'bring', as: 'deck' })
    expect(as('M48', 'board.drl')).toEqual({ kind: 'bring', as: 'board' })
    expect(as(text({ format: 'deckwright-measures' }), 'm.json')).toEqual({ kind: 'bring', as: 'measures' })
    expect(here.store.getState().broken).toBeUndefined()
    expect(as('\u0000\u0001', 'photo.jpg')).toEqual({ kind: 'refused' })
    expect(here.store.getState().broken?.kind).toBe('other')
    // first bytes of PNG and JPEG (from memory), whatever the file is called
    const png = new Uint8Array([137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13])
    for (const [bits, kind] of [
      [png, 'picture'],
      [new Uint8Array([0xff, 0xd8, 0xff, 0xe0]), 'picture'],
      [new Uint8Array(), 'nothing'],
      [bytes(' \r\n'), 'nothing'],
    ] as const) {
      expect(arrive(here, bits, 'robot.json')).toEqual({ kind: 'refused' })
      expect(here.store.getState().broken?.kind).toBe(kind)
    }
    // JSON with a slip is told where the slip is, whatever the file is called
    expect(as('{"format": "deckwright-project" "version": 1}', 'robot.txt')).toEqual({ kind: 'refused' })
    expect(here.store.getState().broken?.problems[0]).toMatchObject({ file: 'robot.txt', line: 1 })
    expect(here.store.getState().history).toBe(before)
    expect(formatOf(`\ufeff${text()}`)).toBe('deckwright-project')
    expect(formatOf('{')).toBeUndefined()
  })
})

describe('a file with something strange in it', () => {
  it('that misspells a field is told both what is missing and what may be meant', async () => {
    const here = await withEnd()
    const [deck] = project.decks
    const { thickness, ...rest } = deck!
    arrive(here, bytes(text({ ...project, decks: [{ ...rest, thicknes: thickness }] })), 'bad.json')
    expect(here.store.getState().broken).toMatchObject({
      problems: [{ path: 'decks[0].thickness', found: 'nothing' }],
      strange: [{ path: 'decks[0].thicknes', expected: expect.stringContaining('did you mean "thickness"') }],
    })
  })

  it('is taken as a part, and what is not understood is said of it', async () => {
    const here = await withEnd()
    // as it stands inside a project, without format and version
    const { format: _, version: __, ...part } = project.footprints[0]!
    const came = arrive(here, bytes(text({ ...part, colour: 'red' })), 'brick.json')
    expect(came).toEqual({ kind: 'part', name: 'brick', replaced: true })
    expect(here.store.getState().notices).toMatchObject([{ file: 'brick.json', path: 'colour' }])
  })

  it('is taken as a layout, and what is not understood is said of it', async () => {
    const here = await withEnd()
    const layout = layoutOf(docOf(here).sheets[0]!.problem, solve(docOf(here).sheets[0]!.problem), 0)
    const [{ turn: _, ...first }, ...others] = layout.placements as [(typeof layout.placements)[number]]
    const odd = { ...layout, placements: [first, ...others], seconds: 'fast' }
    const dropped = arriveAll(here, [
      { name: 'l.json', bytes: bytes(text(odd)) },
      { name: 'p.json', bytes: bytes(text({ ...project, colour: 'red' })) },
    ])
    expect(dropped).toMatchObject({ layout: 'l.json', project: 'p.json', refused: [] })
    expect(here.store.getState().notices.map((n) => [n.file, n.path])).toEqual([
      ['p.json', 'colour'],
      ['l.json', 'placements[0].turn'],
      ['l.json', 'seconds'],
    ])
  })

  it('is no layout of another project where it is no sound layout at all', async () => {
    const here = await withEnd()
    const layout = {
      format: 'deckwright-layout',
      version: 1,
      placements: [{ item: 'one', deck: 'main', at: ['3', 0] }],
    }
    arrive(here, bytes(text(layout)), 'l.json')
    expect(here.store.getState().broken).toMatchObject({ problems: [{ path: 'placements[0].at[0]', found: '"3"' }] })
    expect(here.store.getState().broken?.kind).toBeUndefined()
  })
})

describe('several files at once', () => {
  const part = (id: string) => ({ ...project.footprints[0]!, id, name: id })
  const layout = {
    format: 'deckwright-layout',
    version: 1,
    variant: 'whole',
    placements: [{ item: 'one', deck: 'main', at: [1, 1], turn: 0 }],
  }
  const all = (list: readonly (readonly [string, string | undefined])[]) =>
    list.map(([name, source]) => ({ name, bytes: source === undefined ? undefined : bytes(source) }))

  it('are a project, its parts and its layout, in whatever order they come', async () => {
    const here = await withEnd()
    const came = arriveAll(
      here,
      all([
        ['plan.json', text(layout)],
        ['slab.json', text(part('slab'))],
        ['robot.json', text({ ...project, name: 'Other' })],
        ['tile.json', text({ ...part('tile'), colour: 'red' })],
      ]),
    )
    expect(came).toEqual({
      project: 'robot.json',
      layout: 'plan.json',
      parts: ['slab.json', 'tile.json'],
      left: [],
      refused: [],
    })
    expect(docOf(here).project.name).toBe('Other')
    expect(
      docOf(here)
        .project.footprints?.map((f) => f.id)
        .slice(-2),
    ).toEqual(['slab', 'tile'])
    expect(here.store.getState().history.past.length).toBe(3)
    expect(here.store.getState().notices).toMatchObject([{ file: 'tile.json', path: 'colour' }])
  })

  it('of one kind too many are left, and named; those that cannot be used are all told why', async () => {
    const here = await withEnd()
    const came = arriveAll(
      here,
      all([
        ['a.json', text({ ...project, name: 'A' })],
        ['folder', undefined],
        ['b.json', text({ ...project, name: 'B' })],
        ['cut.json', text(project).slice(0, 200)],
        ['slab.json', text(part('slab'))],
        ['again.json', text(part('slab'))],
        ['bad.json', text({ ...part('bad'), kind: 'cloud' })],
        ['plan.json', text(layout)],
        ['plan-2.json', text(layout)],
        ['plate.svg', '<svg/>'],
        ['board.drl', 'M48'],
        ['board.gbr', 'G04'],
      ]),
    )
    expect(docOf(here).project.name).toBe('A')
    expect(came.left).toEqual([
      { file: 'b.json', why: 'project' },
      { file: 'again.json', why: 'part' },
      { file: 'plan-2.json', why: 'layout' },
      { file: 'plate.svg', why: 'drawing' },
    ])
    expect(came.refused).toEqual(['folder', 'cut.json', 'bad.json'])
    expect(came.bring).toMatchObject({ as: 'board', files: [{ name: 'board.drl' }, { name: 'board.gbr' }] })
    expect(here.store.getState().broken).toMatchObject({
      file: 'folder, cut.json and bad.json',
      problems: [
        { file: 'folder', path: '' },
        { file: 'cut.json', line: 1 },
        { file: 'bad.json', path: 'kind' },
      ],
    })
    // one is taken as it would be alone
    expect(arriveAll(here, all([['x.json', text(part('x'))]])).only).toMatchObject({ kind: 'part', name: 'x' })
    expect(here.store.getState().broken).toBeUndefined()
  })
})

describe('the start view', () => {
  it('closes when something is opened, stops solving its pictures then, and shows the layouts that it got', async () => {
    const { pool, asked } = handPool()
    const here = createDeckwright(files, pool, files.empty(100, 80))
    const demo = { file: 'moss.json', text: text() }
    const start = createStart(here, files, pool, [demo, { file: 'bad.json', text: '{' }])
    expect(start.demos().map((d) => d.demo.file)).toEqual(['moss.json'])
    start.show()
    await new Promise((go) => setTimeout(go, 750))
    const painting = asked.at(-1)!
    await painting.give(solve(painting.problem))
    expect(start.store.getState().pictures.get('moss.json')?.placements.length).toBe(4)
    start.choose(demo)
    expect(start.store.getState().open).toBe(false)
    expect(here.store.getState().history.doc.project.name).toBe('Moss minder')
  })
})
