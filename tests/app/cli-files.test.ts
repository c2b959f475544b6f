/** `check` and `export`: layouts made by hand against the rules, and what is written of the legal ones. */
import { execFile } from 'node:child_process'
import { existsSync, readdirSync, readFileSync, symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, bin, byHand, folder, plate, run, standing, tower } from './cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())

const over = byHand()
over.placements[0]!.at = [8, 10]
const illegal = here.put('illegal.json', over)

describe('check', () => {
  it('calls a legal layout legal', async () => {
    const ran = await run(['check', project, layout])
    expect(JSON.parse(ran.out)).toEqual({ legal: true, findings: [] })
    expect(ran.code).toBe(0)
  })

  it('says what is short, in mm, and ends with 1', async () => {
    const ran = await run(['check', project, '-'], JSON.stringify(over))
    const said = JSON.parse(ran.out)
    expect(ran.code).toBe(1)
    expect(said.legal).toBe(false)
    // "one" starts at x 8, "two" ends at x 20: 12 mm too near along x, 10 mm along y.
    const apart = said.findings.find((f: { rule: string }) => f.rule === 'R2')
    expect(apart.items.sort()).toEqual(['one', 'two'])
    expect(apart.by).toBe(10)
    expect(typeof apart.text).toBe('string')
  })

  it('calls an unknown item a finding, not bad input', async () => {
    const odd = byHand()
    odd.placements.push({ item: 'three', deck: 'main', at: [0, 0], turn: 0 })
    const ran = await asked(['check', project, '-'], JSON.stringify(odd))
    expect(ran.code).toBe(1)
    expect(JSON.parse(ran.out).findings.map((f: { rule: string }) => f.rule)).toEqual(['R10'])
  })

  it('warns of a wrong figure and changes nothing', async () => {
    const ran = await asked(['check', project, '-'], JSON.stringify({ ...byHand(), freeTiePoints: 99 }))
    expect(ran.err).toMatch(/warning: freeTiePoints is 99/)
    expect(ran.code).toBe(0)
  })
})

describe('a deck that reaches farther out than the numbers of its file', () => {
  const { exits: _, wires: __, variants: ___, ...rest } = plate()
  const far = { ...rest, decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [9980, -10_000, 60, 30] } }] }
  const file = here.put('far.json', far)
  const places = [9980, 10_020].map((x, i) => ({
    item: i === 0 ? 'two' : 'one',
    deck: 'main',
    at: [x, -9990],
    turn: 0,
  }))
  const made = here.put('made.json', { ...byHand(), variant: 'base', placements: places })

  it('has layouts all the same', async () => {
    expect(await asked(['check', file, made])).toMatchObject({ code: 0 })
    expect((await asked(['export', file, made, '--svg', '-'])).out).toContain('<g id="drill"')
  })

  it('is not built into a project that nobody could read', async () => {
    const ran = await asked(['built', file, made])
    expect(ran).toMatchObject({ code: 2, out: '' })
    expect(ran.err).toContain('LAYOUT: found [10024, -9985], expected a place on deck "main" with both numbers')
  })
})

describe('export', () => {
  it('writes one SVG for one deck, to exactly the file', async () => {
    const file = join(here.path, 'one.svg')
    const ran = await run(['export', project, layout, '--svg', file])
    expect(ran).toMatchObject({ code: 0, out: '' })
    const text = readFileSync(file, 'utf8')
    expect(text).toContain('<g id="drill"')
    expect(text.match(/r="1\.6"/g)).toHaveLength(4)
    expect(readdirSync(here.path).filter((f) => f.startsWith('.'))).toEqual([])
  })

  it('refuses a layout that breaks a rule, with the reason, and writes nothing', async () => {
    const file = join(here.path, 'never.svg')
    const ran = await asked(['export', project, illegal, '--svg', file])
    expect(ran.code).toBe(1)
    expect(ran.err).toMatch(/one.*two|two.*one/)
    expect(existsSync(file)).toBe(false)
  })

  it('names the files of several decks, and takes one of them', async () => {
    const two = here.put('tower.json', tower())
    const stand = here.put('stand.json', standing())
    expect((await asked(['export', two, stand, '--svg', join(here.path, 'my.tower.svg')])).code).toBe(0)
    expect(existsSync(join(here.path, 'my.tower-main.svg'))).toBe(true)
    expect(existsSync(join(here.path, 'my.tower-upper.svg'))).toBe(true)
    expect(existsSync(join(here.path, 'my.tower.svg'))).toBe(false)
    expect((await asked(['export', two, stand, '--svg', join(here.path, 'just'), '--deck', 'upper'])).code).toBe(0)
    expect(readFileSync(join(here.path, 'just'), 'utf8')).toContain('deck upper')
  })

  it('prints one deck, and asks which where there are two', async () => {
    const ran = await run(['export', project, layout, '--svg', '-'])
    expect(ran.code).toBe(0)
    expect(ran.out).toContain('</svg>')
    const both = await asked(
      ['export', here.put('t.json', tower()), '-', '--svg', '-'],
      JSON.stringify({ ...byHand(), variant: 'base' }),
    )
    expect(both.code).toBe(2)
    expect(both.err).toContain('--svg: found -, expected a file, or one deck of main, upper')
  })

  it('takes kerf, a made plate and pens', async () => {
    const file = join(here.path, 'made.svg')
    const plain = ['export', project, layout, '--svg', file]
    expect((await asked([...plain, '--kerf', '0.2'])).code).toBe(0)
    const cut = /<g id="cut"[^>]*>\s*<path d="([^"]+)"/.exec(readFileSync(file, 'utf8'))![1]!
    const xs = [...cut.matchAll(/[ML] ([\d.]+) /g)].map((m) => Number(m[1]))
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(60.2, 6)
    expect((await asked([...plain, '--as-made', '--stroke', 'drill=#ff0000,0.05', '--stroke', 'mark=blue'])).code).toBe(
      0,
    )
    const made = readFileSync(file, 'utf8')
    expect(made).toMatch(/<g id="cut"[^>]*>\s*<\/g>/)
    expect(made).toContain('<g id="drill" stroke="#ff0000" stroke-width="0.05">')
    expect(made).toContain('<g id="mark" stroke="blue"')
  })

  it('writes through a link without replacing it', async () => {
    const real = here.put('real.svg', 'old')
    const link = join(here.path, 'link.svg')
    symlinkSync(real, link)
    expect((await asked(['export', project, layout, '--svg', link])).code).toBe(0)
    expect(readFileSync(real, 'utf8')).toContain('<svg')
  })

  it('writes to a device without replacing it', async () => {
    expect((await asked(['export', project, layout, '--svg', '/dev/null'])).code).toBe(0)
    const { stdout } = await promisify(execFile)('sh', [
      '-c',
      `"${process.execPath}" "${bin}" export "${project}" "${layout}" --svg /dev/stdout | cat`,
    ])
    expect(stdout).toContain('<svg')
  })
})
