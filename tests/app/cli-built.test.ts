/** `built` as it is typed: what was drilled becomes part of the plate, and the next layout finds it there. */
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, byHand, folder, plate, run, standing, told, tower } from './cli.ts'

const here = folder()
afterAll(here.remove)
const file = (name: string): string => join(here.path, name)
const json = (name: string) => JSON.parse(readFileSync(file(name), 'utf8'))
const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())

const typed = (...args: string[]) => told(['built', ...args])

describe('built', () => {
  it('prints the project with the drilled holes in it, once', async () => {
    const ran = await run(['built', project, layout])
    expect(ran.code).toBe(0)
    // Tiles at (30, 10) and (0, 10), their holes at (4, 5) and (16, 5) of them.
    expect(JSON.parse(ran.out).decks[0].holes.map((h: { at: unknown }) => h.at)).toEqual([
      [4, 15],
      [16, 15],
      [34, 15],
      [46, 15],
    ])
    expect(ran.err).toContain('deck main: added built-1, built-2, built-3, built-4')
    expect(ran.err).toContain('same layout again, deck main: reuses 4 holes, needs 0 new')
    const { objective } = JSON.parse(ran.out)
    expect(objective).toContain('new-holes')
    expect(ran.err).toContain(
      `objective: added new-holes, so that the next layout needs few more: ${objective.join(', ')}`,
    )
    const again = await run(['built', '-', layout], ran.out)
    expect(again.out).toBe(ran.out)
    expect(again.err).toContain('nothing to add')
    expect(again.err).not.toContain('objective:')
  })

  it('writes over the project, after which drill table and solve know what is there', async () => {
    const pinned = plate()
    pinned.items.forEach((item, i) => {
      item.place = [{ kind: 'at', deck: 'main', at: [i === 0 ? 30 : 0, 10], turn: 0 }]
    })
    const own = here.put('own.json', pinned)
    expect((await asked(['solve', own, '--steps', '500'])).err).toBe('')
    expect((await asked(['built', own, layout, '--out', own])).out).toBe('')
    const drill = await asked(['export', own, layout, '--drill', '-'])
    expect(drill.out.trim().split('\r\n')).toHaveLength(1)
    expect(drill.err).toContain('main: reuses 4 holes, needs 0 new')
    expect(drill.err).not.toContain('eye protection')
    const solved = await asked(['solve', own, '--steps', '500'])
    expect(solved.code).toBe(0)
    // its variant of a smaller deck has no room for two of them, which is told
    expect(solved.err.split('\n').filter((l) => !l.startsWith('warning: '))).toEqual([
      'deck main: reuses 4 holes, needs 0 new',
      '',
    ])
    expect(solved.err).toContain('in variant "tight"')
    const lines = (await asked(['solve', own, '--steps', '500', '--progress'])).err.trim().split('\n')
    expect(lines.map((l) => JSON.parse(l))).toContainEqual({
      holes: [{ deck: 'main', reused: 4, new: 0, reusedCuts: 0, newCuts: 0 }],
    })
  })

  it('takes holes that came out elsewhere, with the layout or later, and says what no longer fits', async () => {
    await typed(project, layout, '--out', file('b.json'))
    const near = await typed(file('b.json'), '--move', 'built-2=16.05,14.95,3.4', '--out', file('near.json'))
    expect(near.code).toBe(0)
    expect(near.err).toContain('deck main: built-2 moved from (16, 15), 3.2 mm wide to (16.05, 14.95), 3.4 mm wide')
    expect(json('near.json').decks[0].holes[1]).toEqual({ id: 'built-2', at: [16.05, 14.95], diameter: 3.4 })
    // 0.07 mm off and 0.2 mm wider: R5 lets the screw use it.
    const reused = await typed(file('near.json'), layout)
    expect(reused.err).toContain('reuses 4 holes, needs 0 new')
    // 0.5 mm off: it does not, and a new hole beside it would leave no web.
    const off = await typed(project, layout, '--move', 'built-3=34.5,15')
    expect(off.code).toBe(0)
    expect(JSON.parse(off.out).decks[0].holes[2].at).toEqual([34.5, 15])
    expect(off.err).toContain('reuses 3 holes, needs 1 new')
    expect(off.err).toMatch(/this layout breaks rules.*\n.*R5/)
  })

  it('asks on which deck a hole is moved where more than one has it', async () => {
    const two = here.put('tower.json', tower())
    const stand = here.put('stand.json', standing())
    const one = await typed(two, stand, '--deck', 'upper')
    expect(JSON.parse(one.out).decks.map((d: { holes?: unknown[] }) => d.holes?.length ?? 0)).toEqual([0, 2])
    const which = await typed(two, stand, '--move', 'built-1=4,15.1')
    expect(which).toMatchObject({ code: 2, out: '' })
    expect(which.err).toContain('--deck: found nothing, expected one of main, upper: each has a hole "built-1"')
    const plain = here.put('told.json', (await typed(two, stand)).out)
    const moved = await typed(plain, '--move', 'built-1=4,15.1', '--deck', 'upper')
    const places = JSON.parse(moved.out).decks.map((d: { holes: { at: number[] }[] }) => d.holes[0]!.at)
    expect(places).toEqual([
      [34, 15],
      [4, 15.1],
    ])
  })

  it('refuses a layout that breaks a rule', async () => {
    const over = byHand()
    over.placements[0]!.at = [8, 10]
    const ran = await typed(project, here.put('over.json', over), '--out', file('n'))
    expect(ran.code).toBe(1)
    expect(ran.err).toMatch(/breaks rules, so nothing is written/)
    expect(existsSync(file('n'))).toBe(false)
  })

  const bad: [string, string[], string][] = [
    ['neither layout nor move', [], 'LAYOUT: found nothing, expected a layout file, or --move HOLE=X,Y'],
    ['a move in words', ['--move', 'built-1 to 4'], '--move: found "built-1 to 4", expected HOLE=X,Y'],
    ['a hole that is not there', ['--move', 'built-9=1,2'], '--move: found "built-9", expected a hole of a deck'],
    ['a hole moved twice', [layout, '--move', 'built-1=4,15', '--move', 'built-1=5,15'], 'twice, expected it once'],
    ['a hole beside the deck', [layout, '--move', 'built-1=99,15'], '--move: found [99, 15], expected a place on deck'],
    ['a hole of no width', [layout, '--move', 'built-1=4,15,0'], '--move: found 0, expected a length in mm from 0.001'],
    ['a deck that is not there', [layout, '--deck', 'upper'], '--deck: found "upper", expected "main"'],
    ['to write over the layout', [layout, '--out', layout], '--out: found'],
    ['one file too many', [layout, layout], 'after FILE and LAYOUT, expected nothing more'],
  ]
  it.each(bad)('refuses %s', async (_, args, says) => {
    const ran = await typed(project, ...args)
    expect(ran.err).toContain(says)
    expect(ran).toMatchObject({ code: 2, out: '' })
  })
})
