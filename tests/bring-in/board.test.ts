import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readFootprintValue } from '../../footprints/schema.ts'
import { bring, fixture, good, holesOf } from './board-kit.ts'

const edit = (name: string, from: string, to: string) => {
  const { text } = fixture(name)
  if (!text.includes(from)) throw new Error(`${name} has no ${from}`)
  return { name, text: text.replace(from, to) }
}

describe('a board from IDF', () => {
  it('gives body, mounting holes and height, and lists the rest', () => {
    const result = good(bring(['notched.emn', 'notched.emp'], { height: undefined }))
    // The fixture: 80 × 50 from (10, 20); 1.6 board + 8.5 over + (0.5 offset + 100 thou) under.
    expect(result.footprint.body).toEqual({ width: 80, depth: 50, height: 13.14 })
    expect(holesOf(result)).toEqual([
      [4, 4, 3.2],
      [76, 4, 3.2],
      [4, 36, 3.2],
      [70, 44, 2.7],
    ])
    expect(result.footprint.name).toBe('sensor carrier')
    const unused = result.report.unused.join('\n')
    for (const word of [
      '.OTHER_OUTLINE',
      '.NOTES',
      '.FUTURE_SECTION is not known',
      'PIN hole of 1 mm, plated (2 times)',
    ]) {
      expect(unused).toContain(word)
    }
    expect(unused).toContain('cut-out round, 8 mm at [40, 25]')
    // 4000 − 50 (corner cut by 10 × 10) − 25(1 − π/4) (corner rounded by 5) of 4000.
    expect(result.report.assumptions.join('\n')).toContain('of which it fills 98.616 %')
    expect(readFootprintValue(result.footprint, 'f')).toMatchObject({ ok: true, warnings: [] })
  })

  it('takes a thou for 0.0254 mm', () => {
    const result = bring(['thou.emn'])
    expect(good(result).footprint.body).toMatchObject({ width: 50.8, depth: 38.1 })
    expect(holesOf(result)).toEqual([
      [3.81, 3.81, 3.175],
      [46.99, 34.29, 3.175],
    ])
    expect(good(result).report.assumptions.join()).not.toContain('no rectangle')
  })

  it('reads a circle as its centre and a point of it', () => {
    // IDF 3.0's own sample board has a cut-out "1 2650.0 2350.0 0.0", "1 3000.0 2350.0 360.0" (read): radius 350 thou = 8.89 mm.
    const file = edit('thou.emn', '.END_BOARD_OUTLINE', '1 700 700 0.0\n1 1050 700 360.0\n.END_BOARD_OUTLINE')
    expect(good(bring([file])).report.unused).toEqual([expect.stringContaining('round, 17.78 mm at [17.78, 17.78]')])
  })

  it('reaches as far as an arc that bows out', () => {
    // A half circle of radius 0.75 inch on the right side: 2 + 0.75 inch wide.
    const out = good(bring([edit('thou.emn', '0 2000 1500 0', '0 2000 1500 180')])).footprint.body
    expect(out).toMatchObject({ width: 69.85, depth: 38.1 })
    const inwards = good(bring([edit('thou.emn', '0 2000 1500 0', '0 2000 1500 -90')])).footprint.body
    expect(inwards).toMatchObject({ width: 50.8, depth: 38.1 })
  })

  it('asks for the height where no library gives it, or not all of it', () => {
    const ask = { ok: false, problems: [{ path: 'height', expected: 'the height of the board with its parts, in mm' }] }
    expect(bring(['notched.emn'], { height: undefined })).toMatchObject(ask)
    expect(bring(['notched.emn', edit('notched.emp', 'REG-A', 'REG-B')], { height: undefined })).toMatchObject(ask)
    expect(bring(['plain-outline.gbr'], { height: undefined })).toMatchObject(ask)
  })
})

describe('a board from a Gerber outline and drill files', () => {
  it('gives body and unplated holes in one frame', () => {
    const files = ['plain-PTH.drl', 'plain-outline.gbr', 'plain-NPTH.drl']
    const result = good(bring(files))
    // The fixture: 60 × 40 from (100, −50), rounded by 3: 2400 − 9(4 − π) of 2400.
    expect(result.footprint.body).toMatchObject({ width: 60, depth: 40 })
    expect(holesOf(result)).toEqual([
      [3.5, 3.5, 3.2],
      [56.5, 3.5, 3.2],
      [3.5, 36.5, 3.2],
      [56.5, 36.5, 3.2],
    ])
    expect(result.report.unused).toEqual([
      'plain-PTH.drl:16: routed strokes of tool T2, 2.5 mm wide',
      'plain-PTH.drl:9: hole of 0.4 mm, below 2 mm (2 times)',
      'plain-PTH.drl:12: plated hole of 2.5 mm (4 times)',
      'plain-NPTH.drl:20: drilled slot 1.1 mm wide',
      'plain-NPTH.drl:19: hole of 1.1 mm, below 2 mm',
    ])
    const assumed = result.report.assumptions.join('\n')
    expect(assumed).toContain('drawn 0.1 mm wide')
    expect(assumed).toContain(`fills ${Math.round(1e5 - (1e5 * 9 * (4 - Math.PI)) / 2400) / 1000} %`)
  })

  it('takes plated holes where it is told to, and starts where it is told to', () => {
    const more = bring(['plain-outline.gbr', 'plain-PTH.drl'], {
      mount: { plated: true, least: 2.5, land: 6, screw: 'M2' },
    })
    // R3X5.08 repeats the hole three times.
    expect(holesOf(more)).toEqual([30, 35.08, 40.16, 45.24].map((x) => [x, 6, 2.5]))
    const { mount } = good(more).footprint
    expect(mount).toMatchObject({ kind: 'screw', holes: [{ id: 'h1', land: 6, screw: 'M2' }, {}, {}, {}] })
    expect(holesOf(bring(['plain-outline.gbr', 'plain-NPTH.drl'], { mount: { least: 3.3 } }))).toEqual([])
  })

  it.each(['inch-lz.drl', 'inch-tz.drl'])('reads inches with zeros left out: %s', (drill) => {
    // 0.15 inch = 3.81 mm; the same board as thou.emn.
    const result = bring(['inch-outline.gbr', drill])
    expect(good(result).footprint.body).toMatchObject({ width: 50.8, depth: 38.1 })
    expect(holesOf(result)[3]).toEqual([46.99, 34.29, 3.175])
  })

  it('refuses holes that lie outside the outline', () => {
    const result = bring(['inch-outline.gbr', 'plain-NPTH.drl'])
    expect(result).toMatchObject({
      ok: false,
      problems: [{ file: 'plain-NPTH.drl', line: 14, path: 'holes' }, {}, {}, {}],
    })
  })

  it('says where it had to take the holes for unplated', () => {
    const drill = edit('inch-lz.drl', ';TYPE=NON_PLATED\n', '')
    expect(good(bring(['inch-outline.gbr', drill])).report.assumptions.join()).toContain(
      'do not say which holes are plated; all 4',
    )
    const named = { ...drill, name: 'relay-npth.drl' }
    expect(good(bring(['inch-outline.gbr', named])).report.assumptions.join()).toContain(
      'by its name, its holes are not plated',
    )
    expect(holesOf(bring(['inch-outline.gbr', { ...drill, name: 'relay-pth.drl' }]))).toEqual([])
  })

  it('takes one silent layer for the outline, asks where there are two, and leaves copper alone', () => {
    const silent = { ...edit('inch-outline.gbr', '%TF.FileFunction,Profile,NP*%\n', ''), name: 'a.gbr' }
    expect(good(bring([silent])).report.assumptions.join()).toContain('only layer that does not say what it is')
    expect(bring([silent, { ...silent, name: 'b.gbr' }])).toMatchObject({
      ok: false,
      problems: [{ path: 'FileFunction', found: '2 files that may be the outline: a.gbr, b.gbr' }],
    })
    const copper = { name: 'top.gbr', text: '%FSLAX46Y46*%%TF.FileFunction,Copper,L1,Top*%\nbroken' }
    const result = good(bring([silent, copper]))
    expect(result.report.unused).toEqual(['top.gbr:1: layer "Copper,L1,Top" is not used'])
    expect(bring([copper])).toMatchObject({ ok: false, problems: [{ path: 'outline', found: 'no outline' }] })
  })

  it('reads a drill layer in Gerber', () => {
    const flashes = 'D10*\nX1500Y1500D03*\nX18500Y13500D03*\n'
    const head = '%FSLAX24Y24*%\n%MOIN*%\n%TF.FileFunction,NonPlated,1,2,NPTH*%\n%ADD10C,0.125*%\n'
    const result = bring(['inch-outline.gbr', { name: 'holes.gbr', text: `${head}${flashes}M02*` }])
    expect(holesOf(result)).toEqual([
      [3.81, 3.81, 3.175],
      [46.99, 34.29, 3.175],
    ])
  })
})

describe('line ends and marks', () => {
  it.each([
    ['notched.emn', 'notched.emp'],
    ['plain-outline.gbr', 'plain-NPTH.drl', 'plain-PTH.drl'],
    ['inch-outline.gbr', 'inch-lz.drl'],
  ])('any line end and a byte-order mark change nothing: %s', (...names) => {
    expect(bring(names).ok).toBe(true)
    for (const end of ['\r\n', '\r']) {
      const other = names.map((name) => ({ name, text: `\ufeff${fixture(name).text.replaceAll('\n', end)}` }))
      expect(bring(other)).toEqual(bring(names))
    }
  })

  it('a problem stands in the same line whatever ends it', () => {
    for (const end of ['\n', '\r\n', '\r']) {
      const text = fixture('plain-NPTH.drl').text.replace(/^T1$/m, 'T77').replaceAll('\n', end)
      const result = bring(['plain-outline.gbr', { name: 'plain-NPTH.drl', text }])
      const line = fixture('plain-NPTH.drl').text.split('\n').indexOf('T1') + 2
      expect(result).toMatchObject({ ok: false, problems: [{ path: 'T77', line }] })
    }
  })

  it('a cut-out larger than the outline of an IDF file is refused', () => {
    const cut = '1 -100 -100 0\n1 2100 -100 0\n1 2100 1600 0\n1 -100 1600 0\n1 -100 -100 0\n.END_BOARD_OUTLINE'
    expect(bring([edit('thou.emn', '.END_BOARD_OUTLINE', cut)])).toMatchObject({
      ok: false,
      problems: [{ path: 'outline', line: 13 }],
    })
  })
})

describe('answers', () => {
  it('are asked for where the files say nothing, and used where they are given', () => {
    const units = bring(['plain-outline.gbr', 'damaged/no-units.drl'], { answers: { units: 'mm' } })
    expect(holesOf(units)).toHaveLength(4)
    const zeros = ['inch-outline.gbr', 'damaged/no-zeros.drl']
    expect(holesOf(bring(zeros, { answers: { suppressed: 'trailing' } }))[0]).toEqual([3.81, 3.81, 3.175])
    // Wrong answers put the holes elsewhere, and that is seen.
    expect(holesOf(bring(zeros, { answers: { suppressed: 'leading' } }))[0]).not.toEqual([3.81, 3.81, 3.175])
    expect(good(bring(['damaged/no-unit.gbr'], { answers: { units: 'inch' } })).footprint.body.width).toBe(60 * 25.4)
  })
})

/** File, line, what it is about, and words of what was found or expected. */
const DAMAGED: Record<string, [line: number, path: string, words: string]> = {
  'cut-short.emn': [29, '.DRILLED_HOLES', 'the end of the file'],
  'no-outline.emn': [1, '.BOARD_OUTLINE', 'a section .BOARD_OUTLINE'],
  'units.emn': [4, '.HEADER', 'MM or THOU'],
  'version-2.emn': [3, '.HEADER', 'version 3.0'],
  'panel.emn': [3, '.HEADER', 'a panel of boards'],
  'open-loop.emn': [13, '.BOARD_OUTLINE', 'its first point again as its last'],
  'letters.emn': [10, '.BOARD_OUTLINE', '"6S.0"'],
  'three-fields.emn': [11, '.BOARD_OUTLINE', 'loop label, x, y, included angle'],
  'plating.emn': [27, '.DRILLED_HOLES', 'PTH or NPTH'],
  'angle.emn': [11, '.BOARD_OUTLINE', '-360 to 360'],
  'quote.emn': [4, '', 'a " at the end'],
  'nested.emn': [35, '.DRILLED_HOLES', '.END_DRILLED_HOLES before the next section'],
  'no-diameter.emn': [29, '.DRILLED_HOLES', 'a diameter above 0'],
  'two-outlines.emn': [36, '.BOARD_OUTLINE', 'a second outline'],
  'cut-short.gbr': [30, '', 'cut short'],
  'no-format.gbr': [12, 'FS', 'a coordinate before the format'],
  'no-unit.gbr': [9, 'MO', 'MOMM or MOIN; or say mm or inch'],
  'open.gbr': [17, 'Profile', 'open between'],
  'radii.gbr': [17, 'G03', 'radii that differ'],
  'no-star.gbr': [6, '', '* at the end of a command'],
  'aperture.gbr': [12, 'D11', 'not defined'],
  'incremental.gbr': [5, 'FS', 'absolute coordinates'],
  'letters.gbr': [14, '', 'X157O00000D01'],
  'two-boards.gbr': [32, 'outline', 'the outline of one board'],
  'open-region.gbr': [12, 'G36', 'a contour that ends where it began'],
  'cut-short.drl': [21, '', 'cut short'],
  'no-units.drl': [6, 'units', 'say mm or inch'],
  'no-zeros.drl': [7, 'suppressed', 'say leading or trailing'],
  'no-tool-size.drl': [14, 'T1', 'its diameter in the header'],
  'no-tool.drl': [13, '', 'a tool first'],
  'too-many-digits.drl': [7, 'digits', 'say how many'],
  'two-units.drl': [11, 'units', 'a second unit'],
  'pattern.drl': [18, 'M25', 'patterns'],
  'letters.drl': [15, 'X', 'a number after X'],
  'unclosed-header.drl': [13, 'M48', '% or M95'],
  'wide-tool.drl': [7, 'T1', '3200 mm'],
  'mirror.drl': [18, 'M80', 'mirrors'],
}

describe('damaged files', () => {
  it('are all listed here, twenty or more', () => {
    const names = readdirSync(new URL('../fixtures/bring-in/boards/damaged/', import.meta.url))
    expect(names.sort()).toEqual(Object.keys(DAMAGED).sort())
    expect(names.length).toBeGreaterThanOrEqual(20)
  })

  it.each(Object.entries(DAMAGED))(
    '%s is refused with its place and what would be right',
    (name, [line, path, words]) => {
      const file = `damaged/${name}`
      const outline =
        name.startsWith('two') || name.includes('zeros') || name.includes('digits')
          ? 'inch-outline.gbr'
          : 'plain-outline.gbr'
      const result = bring(name.endsWith('.drl') ? [outline, file] : [file])
      if (result.ok) throw new Error('it was taken')
      const told = result.problems.map((p) => `${p.line} ${p.path}: found ${p.found}, expected ${p.expected}`)
      expect(told[0]).toContain(`${line} ${path}: `)
      expect(told.join('\n')).toContain(words)
      expect(result.problems[0]!.file).toBe(file)
    },
  )

  it('other files, empty ones and none are refused', () => {
    expect(bring([{ name: 'a.txt', text: 'hello' }])).toMatchObject({ problems: [{ found: '"hello"' }] })
    expect(bring([{ name: 'a.emn', text: '' }])).toMatchObject({ ok: false })
    expect(bring([])).toMatchObject({ problems: [{ found: 'no file' }] })
    const long = { name: 'a.drl', text: `M48\nMETRIC\n%\n${';'.repeat(10_000_000)}` }
    expect(bring(['plain-outline.gbr', long])).toMatchObject({
      problems: [{ expected: 'at most 10000000 bytes (10 MB)' }],
    })
  })
})
