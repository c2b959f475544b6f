/** `inspect`, as typed: text for people, JSON, the check list as a file, exit codes, bad input. */
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, byHand, folder, plate, run, some } from './cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())

describe('inspect', () => {
  it('says for people what it found, what it could not know, and the check list last', async () => {
    const ran = await run(['inspect', project, layout])
    expect(ran.code).toBe(0)
    const heads = [...ran.out.matchAll(/^\S.*$/gm)].map((m) => m[0])
    expect(heads[0]).toBe('test plate, variant wide')
    expect(heads[1]).toBe('Nothing was found that stops the job.')
    expect(heads.at(-1)).toBe('Before power is on:')
    // From the exit at (30, 2) to the tile's terminal at (30, 15): 13 mm, loop 10.
    expect(ran.out).toMatch(/^ {2}red +lead +one +13\.0 +13\.0 +23\.0/m)
    expect(ran.out).toMatch(/No balance: the project has no chassis .* \(`chassis` with `contact`/)
    expect(ran.out).toMatch(/\[ \] 1\. {2}Disconnect every supply/)
    expect(ran.out).not.toMatch(/undefined|NaN|\[object/)
  })

  it('gives all of it as JSON', async () => {
    const ran = await asked(['inspect', project, layout, '--json'])
    expect(ran.code).toBe(0)
    const report = JSON.parse(ran.out)
    expect(report).toMatchObject({ project: 'test plate', variant: 'wide', findings: [] })
    expect(report.leads.routes[0]).toMatchObject({ wire: 'red', length: 13, cut: 23 })
    expect(report.beforePower.steps.length).toBeGreaterThan(4)
  })

  it('tells broken rules first, reports the rest all the same, and ends with 1', async () => {
    const bad = byHand()
    bad.placements[1]!.at = [25, 10]
    const ran = await asked(['inspect', project, '-'], JSON.stringify(bad))
    expect(ran.code).toBe(1)
    expect(ran.out).toMatch(
      /^What stops the job \(\d\):\n {2}- .*one.*two|^What stops the job \(\d\):\n {2}- .*two.*one/m,
    )
    expect(ran.out).toMatch(/^Leads:/m)
    expect(ran.out).toMatch(/^Before power is on:/m)
  })

  it('writes the check list as a file of its own, with the cautions', async () => {
    const list = join(here.path, 'list.txt')
    const ran = await asked(['inspect', project, layout, '--checklist', list])
    expect(ran.code).toBe(0)
    const text = readFileSync(list, 'utf8')
    expect(text).toMatch(/^test plate, variant wide\n/)
    expect(text).toMatch(/local codes.*licensed practice/i)
    expect(ran.out.endsWith(text.slice(text.indexOf('Before power')))).toBe(true)
  })

  it('keeps leads for a second variant, and stands on a slope', async () => {
    const both = {
      ...plate(),
      variants: [{ id: 'wide' }, { id: 'other' }],
      chassis: {
        contact: [
          [0, 0],
          [60, 0],
          [60, 30],
          [0, 30],
        ],
        mass: 100,
        centre: [30, 15, 20],
      },
    }
    const file = here.put('both.json', both)
    const other = { ...byHand(), variant: 'other' }
    other.placements[0]!.at = [40, 10]
    const second = here.put('other.json', other)
    const ran = await asked(['inspect', file, layout, '--with', second, '--slope', '10', '--toward', 'left'])
    expect(ran.code).toBe(0)
    // The tile 10 mm farther along x in the other variant.
    expect(ran.out).toMatch(/^ {2}red +lead +one +13\.0 +13\.0 +23\.0 +33\.0/m)
    expect(ran.out).toMatch(/^ {2}On a slope of 10°:/m)
    const twice = await asked(['inspect', file, layout, '--with', layout])
    expect(twice).toMatchObject({ code: 2, out: '' })
    expect(twice.err).toMatch(/--with .*expected another variant's/)
  })

  it.each([
    [0, ['--slope', '95'], /--slope: found "?95"?, expected degrees from 0 to 80/],
    [1, ['--slope', '5', '--toward', 'frnt'], /--toward: found "frnt", expected .*front/],
    [2, ['--toward', 'left'], /--toward: .*expected --slope DEG/],
    [3, ['--checklist', ''], /--checklist: .*expected the name of a file/],
    [4, ['--with', 'nowhere.json'], /nowhere\.json/],
  ])('refuses row %d, %j, writes nothing, and says what would be right', async (row, more, words) => {
    const list = join(here.path, 'none.txt')
    const args = more.includes('--checklist') ? more : [...more, '--checklist', list]
    const ran = await some(row)(['inspect', project, layout, ...args])
    expect(ran).toMatchObject({ code: 2, out: '' })
    expect(ran.err).toMatch(words)
    expect(existsSync(list)).toBe(false)
  })

  it('tells all that is wrong with both files at once', async () => {
    const ran = await asked(['inspect', here.put('a.json', '{'), here.put('b.json', '{}')])
    expect(ran.code).toBe(2)
    expect(ran.err).toMatch(/a\.json/)
    expect(ran.err).toMatch(/b\.json/)
  })
})
