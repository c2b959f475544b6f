/** Files that are dropped on the bench where a part is described: whatever tells of a part is read, and nothing is left unsaid. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { emptyFootprint } from '../../src/model/edit-footprint.ts'
import { footprintFrom } from '../../src/panels/footprint-files.ts'
import { project, text } from './store-sample.ts'

const boards = join(import.meta.dirname, '../fixtures/bring-in/boards')
const fixture = (name: string) => ({ name, bytes: new Uint8Array(readFileSync(join(boards, name))) })
const file = (name: string, source: string) => ({ name, bytes: new TextEncoder().encode(source) })
const draft = { ...emptyFootprint('mine'), name: 'my board', source: 'measured by hand' }
const deck = project.decks[0] as Parameters<typeof footprintFrom>[2]
const read = (sources: Parameters<typeof footprintFrom>[0], answers = {}) =>
  footprintFrom(sources, draft, deck, answers)

describe('a file on the bench', () => {
  it('is a part as it says itself, with what is not understood in it', async () => {
    const part = { ...project.footprints[0]!, colour: 'red' }
    const got = await read([file('notes.md', 'hello'), file('brick.json', text(part)), file('b.json', text(part))])
    expect(got.footprint).toMatchObject({ id: 'brick', body: { width: 20 } })
    expect(got).toMatchObject({ files: ['brick.json'], left: ['notes.md', 'b.json'] })
    expect(got.lines.join()).toMatch(/colour/)
  })

  it('is a board by its drawings, which keeps id and name, and the height where they have none', async () => {
    const got = await read(['plain-outline.gbr', 'plain-PTH.drl', 'plain-NPTH.drl'].map(fixture))
    expect(got.problems).toEqual([])
    expect(got.footprint).toMatchObject({ id: 'mine', name: 'my board', body: { height: 10 } })
    expect(got.footprint!.body.width).not.toBe(draft.body.width)
    expect(got.lines[0]).toContain('10 mm')
    const idf = await read([fixture('notched.emn'), fixture('notched.emp')])
    expect(idf.footprint?.id).toBe('mine')
  })

  it('asks what the numbers of a drill file mean where nothing says it', async () => {
    const bare = [fixture('plain-outline.gbr'), file('holes.drl', 'M48\nT1C0.8\n%\nT1\nX110.0Y-20.0\nM30\n')]
    const got = await read(bare)
    expect(got.footprint).toBeUndefined()
    expect(got.asks.units).toBe(true)
    const said = await read(bare, { units: 'mm' })
    expect(said.problems).toEqual([])
    expect(said.footprint?.id).toBe('mine')
  })

  it('that is no part leaves the part as it was and says what it is', async () => {
    const got = await read([file('robot.json', text()), file('plate.svg', '<svg/>'), file('e.json', '')])
    expect(got.footprint).toBeUndefined()
    expect(got.problems.map((p) => [p.file, p.found])).toEqual([
      ['robot.json', expect.stringContaining('project')],
      ['plate.svg', expect.stringContaining('deck')],
      ['e.json', expect.stringContaining('empty')],
    ])
    const bad = await read([file('bad.json', text({ ...project.footprints[0]!, body: { width: -1 } }))])
    expect(bad.problems.map((p) => p.path)).toContain('body.width')
  })
})
