/** Files that are chosen or dropped: each kind does what it can, and nothing but a sound one changes the document. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { formatOf } from '../../src/model/format-of.ts'
import { layoutOf, writeLayout } from '../../src/model/index.ts'
import { arrive } from '../../src/store/arrive.ts'
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
    expect(here.store.getState().broken!.problems[0]!.found).toContain('"stranger"')
    expect(arrive(here, bytes(text({ ...layout, variant: 'none' })), 'far.json')).toEqual({ kind: 'refused' })
    expect(here.store.getState().broken!.problems[0]!.path).toBe('variant')
  })

  it('as a part becomes one of the project, as one step; a bad one names its field', async () => {
    const here = await withEnd()
    const part = { ...project.footprints[0]!, id: 'slab', name: 'slab' }
    expect(arrive(here, bytes(text(part)), 'slab.json')).toEqual({ kind: 'part', name: 'slab' })
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
    expect(here.store.getState().history).toBe(before)
    expect(formatOf(`\ufeff${text()}`)).toBe('deckwright-project')
    expect(formatOf('{')).toBeUndefined()
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
