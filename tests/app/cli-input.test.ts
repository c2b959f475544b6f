/** What a command says to input that it cannot use: exit code 2, everything that is wrong, and nothing written. */
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { readArgs } from '../../src/cli/args.ts'
import { form, MOST_SECONDS, seconds } from '../../src/cli/solve.ts'
import { asked, byHand, folder, LONG, plate, run, some, told } from './cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())
const out = join(here.path, 'out.json')
const nowhere = join(here.path, 'no/where.json')
const broken = here.put('broken.json', { ...plate(), items: [{ id: 'one', footprint: 'tile', count: 0 }] })
const turned = byHand().placements.map((p) => ({ ...p, turn: 7 }))
const elsewhere = here.put('elsewhere.json', { ...byHand(), variant: 'wid', placements: turned })
const ofElsewhere = ['elsewhere.json:4:14: variant: found "wid"', 'placements[1].turn: found 7']

/** Arguments, and what stderr must say. */
const wrong: Record<string, { args: string[]; says: string[] }> = {
  'no command': { args: [], says: ['no command', 'solve, compare, what-if, check, inspect, export'] },
  'an unknown command': { args: ['sovle', project], says: ['"sovle"', 'did you mean solve?'] },
  'a name that every object has': { args: ['constructor'], says: ['"constructor"', 'expected one of'] },
  'no file': { args: ['solve'], says: ['FILE: found nothing', 'usage: deckwright solve FILE'] },
  'an unknown option': { args: ['solve', project, '--tiem', '3'], says: ['"--tiem"', 'did you mean --time?'] },
  'a short option': { args: ['solve', project, '-t', '3'], says: ['"-t"', 'expected one of --variant'] },
  'an option of another command': {
    args: ['check', project, layout, '--json'],
    says: ['"--json"', 'expected no option'],
  },
  'an option without its value': { args: ['solve', project, '--out'], says: ['--out: found nothing'] },
  'an option for a value': {
    args: ['solve', project, '--variant', '--progress'],
    says: ['--variant: found "--progress"'],
  },
  'a switch with a value': { args: ['solve', project, '--progress=yes'], says: ['--progress: found a value'] },
  'an option twice': { args: ['solve', project, '--time', '1', '--time', '2'], says: ['--time: found twice'] },
  'a word for a time': {
    args: ['solve', project, '--time', 'soon'],
    says: ['--time: found "soon"', 'a number of seconds'],
  },
  'two wrong numbers and no folder': {
    args: ['solve', project, '--time', 'soon', '--steps', 'few', '--out', join(here.path, 'no/where.json')],
    says: ['--time: found "soon"', '--steps: found "few"', '--out: found'],
  },
  'a negative time': { args: ['solve', project, '--time', '-1'], says: ['--time: found "-1"'] },
  'an endless time': { args: ['solve', project, '--time', 'Infinity'], says: ['--time: found "Infinity"'] },
  'half a step': { args: ['solve', project, '--steps', '1.5'], says: ['--steps: found "1.5"', 'whole number'] },
  'no steps': { args: ['solve', project, '--steps', '0'], says: ['--steps: found "0"'] },
  'a file too many': { args: ['solve', project, layout], says: ['after FILE, expected nothing more'] },
  'a missing file': { args: ['solve', 'nowhere.json'], says: ['nowhere.json', 'no such file'] },
  'a folder': { args: ['solve', here.path], says: ['a folder, expected a file'] },
  'an unknown variant': {
    args: ['solve', project, '--variant', 'wid'],
    says: ['--variant: found "wid"', '"wide", "tight"', 'did you mean "wide"?'],
  },
  'unknown variants': { args: ['compare', project, '--variants', 'wide,x,y'], says: ['found "x"', 'found "y"'] },
  'standard input twice': { args: ['check', '-', '-'], says: ['found - twice'] },
  'a layout for a project': {
    args: ['solve', layout],
    says: ['format: found "deckwright-layout"', 'deckwright-project'],
  },
  'a project for a layout': {
    args: ['check', project, project],
    says: ['format: found "deckwright-project"', 'deckwright-layout'],
  },
  'an export to nowhere': { args: ['export', project, layout], says: ['--svg: found nothing'] },
  'an unknown deck': {
    args: ['export', project, layout, '--svg', out, '--deck', 'mian'],
    says: ['--deck: found "mian"', '"main"'],
  },
  'a negative kerf': {
    args: ['export', project, layout, '--svg', out, '--kerf', '-0.2'],
    says: ['--kerf: found "-0.2"', 'from 0 to 10'],
  },
  'a silly kerf': { args: ['export', project, layout, '--svg', out, '--kerf', '2cm'], says: ['--kerf: found "2cm"'] },
  'a kerf that eats the plate': { args: ['export', project, layout, '--svg', out, '--kerf', '50'], says: ['--kerf'] },
  'a pen for no group': {
    args: ['export', project, layout, '--svg', out, '--stroke', 'cutt=red'],
    says: ['--stroke', 'did you mean "cut"?'],
  },
  'a pen of no colour': {
    args: ['export', project, layout, '--svg', out, '--stroke', 'cut=redd'],
    says: ['--stroke: found "cut=redd"', 'COLOUR as #rrggbb'],
  },
  'two pens for a group': {
    args: ['export', project, layout, '--svg', out, '--stroke', 'cut=red', '--stroke', 'cut=blue'],
    says: ['--stroke', '"cut" twice'],
  },
  'an output in no folder': {
    args: ['solve', project, '--out', join(here.path, 'no/where.json')],
    says: ['--out', 'a folder that exists'],
  },
  'an output that is a folder': { args: ['solve', project, '--out', here.path], says: ['which is a folder'] },
  'an output over the input': { args: ['solve', project, '--out', project], says: ['a file that is read'] },
}

/** One of everything that a command reads is wrong, values, names, files and targets: all of it is told. */
const all: Record<string, { args: string[]; says: string[] }> = {
  solve: {
    args: ['solve', broken, '--time', 'x', '--steps', '0', '--out', nowhere],
    says: ['--time: found "x"', '--steps: found "0"', 'items[0].count: found 0', '--out: found'],
  },
  'solve, with a sound file': {
    args: ['solve', project, '--time', 'x', '--variant', 'q'],
    says: ['--time: found "x"', '--variant: found "q"'],
  },
  compare: { args: ['compare', broken, '--time', 'x'], says: ['--time: found "x"', 'items[0].count: found 0'] },
  'compare, with a sound file': {
    args: ['compare', project, '--time', 'x', '--variants', 'q'],
    says: ['--time: found "x"', '--variants: found "q"'],
  },
  'what-if': {
    args: ['what-if', broken, '--different', 'x', '--slack', 'y', '--steps', '0'],
    says: ['--different: found "x"', '--slack: found "y"', '--steps: found "0"', 'items[0].count: found 0'],
  },
  'what-if, with a sound file': {
    args: ['what-if', project, '--smallest-deck', 'x', '--one-more', 'y', '--deck', 'z'],
    says: [
      '--smallest-deck and --one-more',
      '--smallest-deck: found "x"',
      '--one-more: found "y"',
      '--deck: found "z"',
    ],
  },
  export: {
    args: ['export', broken, 'nope.json', '--svg', nowhere, '--pdf', broken, '--kerf', 'x', '--with', 'none.json'],
    says: [
      '--kerf: found "x"',
      'items[0].count: found 0',
      'nope.json: cannot be read',
      'none.json: cannot be read',
      '--svg: found',
      '--pdf: found',
    ],
  },
  'export, with a sound project': {
    args: [
      'export',
      project,
      layout,
      '--svg',
      nowhere,
      '--pdf',
      '-',
      '--deck',
      'q',
      '--with',
      elsewhere,
      '--paper',
      'x',
    ],
    says: ['--paper: found "x"', '--deck: found "q"', ...ofElsewhere],
  },
  inspect: {
    args: [
      'inspect',
      broken,
      'nope.json',
      '--with',
      'none.json',
      '--slope',
      'x',
      '--toward',
      'y',
      '--checklist',
      nowhere,
    ],
    says: [
      '--slope: found "x"',
      '--toward: found "y"',
      'items[0].count: found 0',
      'nope.json: cannot be read',
      'none.json: cannot be read',
      '--checklist: found',
    ],
  },
  'inspect, with a sound project': {
    args: ['inspect', project, layout, '--with', layout, '--with', elsewhere, '--slope', 'x'],
    says: ['--slope: found "x"', ...ofElsewhere],
  },
  'inspect, with layouts of the same variant': {
    args: ['inspect', project, layout, '--with', layout, '--slope', 'x'],
    says: ['--slope: found "x"', '--with', 'found a layout of the variant wide'],
  },
  built: {
    args: ['built', broken, 'nope.json', '--move', 'x', '--out', nowhere],
    says: ['--move: found "x"', 'items[0].count: found 0', 'nope.json: cannot be read', '--out: found'],
  },
  'built, with a sound project': {
    args: ['built', project, layout, '--move', 'x=1,2', '--move', 'y=1,2'],
    says: ['--move: found "x"', '--move: found "y"'],
  },
  'bring-in of a drawing': {
    args: ['bring-in', 'nope.dxf', '--into', broken, '--tolerance', 'x', '--unit', 'y', '--out', nowhere],
    says: ['--tolerance: found "x"', '--unit: found "y"', 'items[0].count', 'nope.dxf: cannot be read', '--out: found'],
  },
  'bring-in of a board': {
    args: ['bring-in', 'nope.emn', '--board', 'b', '--with', 'none.drl', '--gap', '1', '--height', 'x', '--zeros', 'y'],
    says: [
      '--gap: found it',
      '--height: found "x"',
      '--zeros: found "y"',
      'nope.emn: cannot be read',
      'none.drl: cannot be read',
    ],
  },
}

describe('bad input', () => {
  const before = readdirSync(here.path)
  for (const [row, [name, { args, says }]] of Object.entries(wrong).entries()) {
    it(`${name} ends with 2 and what would be right`, async () => {
      const ran = await some(row)(args)
      for (const words of says) expect(ran.err).toContain(words)
      expect(ran.code).toBe(2)
      expect(ran.out).toBe('')
      expect(ran.err).not.toMatch(/^\s+at .*:\d+/m)
      expect(ran.ms).toBeLessThan(5000)
      expect(readdirSync(here.path)).toEqual(before)
    })
  }

  for (const [name, { args, says }] of Object.entries(all)) {
    it(`is told all at once by ${name}`, async () => {
      const ran = await told(args)
      for (const words of says) expect(ran.err).toContain(words)
      expect(ran).toMatchObject({ code: 2, out: '' })
    })
  }

  it('is told once, however often it was met', async () => {
    expect((await told(['export', 'nope.json', layout, '--wires', '-', '--with', layout])).err).toBe(
      'nope.json: cannot be read: no such file or directory\n',
    )
    expect((await told(['inspect', '-', layout, '--with', '-'])).err).toBe(
      'found - twice, expected it once: there is one standard input\n',
    )
  })

  it('lists every problem of a broken project with its field, at once', async () => {
    const broken = plate()
    broken.items[0]!.count = 0
    broken.items[1]!.footprint = 'tyle'
    broken.decks[0]!.thickness = 'thin'
    const ran = await run(['solve', '-', '--out', out], JSON.stringify(broken))
    expect(ran.code).toBe(2)
    expect(ran.err).toMatch(/standard input:\d+:\d+: items\[0\]\.count: found 0/)
    expect(ran.err).toMatch(/items\[1\]\.footprint: found "tyle".*did you mean "tile"/)
    expect(ran.err).toMatch(/decks\[0\]\.thickness: found "thin"/)
    expect(existsSync(out)).toBe(false)
  })

  it('lists the problems of both files of a check', async () => {
    const ran = await asked(['check', here.put('a.json', '{'), here.put('b.json', '[]')])
    expect(ran.code).toBe(2)
    expect(ran.err).toContain('a.json')
    expect(ran.err).toContain('b.json')
  })

  it('refuses more than 10 MB, from a file and from standard input', async () => {
    const long = `"${'x'.repeat(10_000_100)}"`
    for (const ran of [await asked(['solve', here.put('long.json', long)]), await run(['solve', '-'], long)]) {
      expect(ran.code).toBe(2)
      expect(ran.err).toContain('10 MB')
      expect(ran.ms).toBeLessThan(5000)
    }
  })

  it('takes a byte-order mark and CRLF', async () => {
    const ran = await asked(
      ['check', '-', layout],
      `\ufeff${JSON.stringify(plate(), null, 1).replaceAll('\n', '\r\n')}`,
    )
    expect(ran.code).toBe(0)
  })

  it('names an unknown field in a warning and goes on', async () => {
    const ran = await asked(['check', '-', layout], JSON.stringify({ ...plate(), colour: 'red' }))
    expect(ran.code).toBe(0)
    expect(ran.err).toMatch(/^warning: .*colour/m)
  })

  it('helps: with all commands, and with each', async () => {
    const all = await run(['--help'])
    expect(all.code).toBe(0)
    for (const [row, name] of ['solve', 'compare', 'check', 'export'].entries()) {
      expect(all.out).toContain(`deckwright ${name} FILE`)
      const one = await some(row)([name, '--help'])
      expect(one.code).toBe(0)
      expect(one.out).toContain(`deckwright ${name} FILE`)
    }
  })

  it('starts in 0.4 s, or where Node itself starts slowly, in four times as long as that takes', async () => {
    const [times, bare]: [number[], number[]] = [[], []]
    // until the first that is quick enough however slowly Node itself starts
    for (let i = 0; i < 7 && (LONG || !(Math.min(...times) < 400)); i++) {
      times.push((await run(['--help'])).ms)
      const from = performance.now()
      spawnSync(process.execPath, ['-e', '0'])
      bare.push(performance.now() - from)
    }
    expect(Math.min(...times)).toBeLessThan(Math.max(400, 4 * Math.min(...bare)))
  })

  it('works from another folder', async () => {
    mkdirSync(join(here.path, 'sub'))
    const ran = await run(['check', '../plate.json', '../layout.json'], '', join(here.path, 'sub'))
    expect(ran.code).toBe(0)
  })
})

it('takes numbers as people and programs write them', () => {
  const read = (text: string) => () =>
    readArgs(form, ['p.json', '--time', text]).number('time', seconds, 0, MOST_SECONDS)
  const good = { '1e3': 1000, '2.5E-1': 0.25, '1e+2': 100, '.5': 0.5, '+7.': 7 }
  for (const [text, value] of Object.entries(good)) expect(read(text)()).toBe(value)
  for (const text of ['1e7', '1e', 'e3', '0x10', '1e1.5', 'Infinity', '1_000', '']) expect(read(text)).toThrow('--time')
})
