import { describe, expect, it } from 'vitest'
import { readFootprintValue } from '../../footprints/schema.ts'
import fc from '../seeded.ts'
import { bring, fixture } from './board-kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const GOOD = [
  'notched.emn',
  'notched.emp',
  'plain-outline.gbr',
  'plain-NPTH.drl',
  'plain-PTH.drl',
  'inch-outline.gbr',
  'inch-lz.drl',
]
const WORDS = [
  '%',
  '*',
  '\n',
  'G36',
  'G37',
  'G02',
  'G74*',
  'D01',
  'D03',
  'X',
  '-',
  '.',
  '9'.repeat(30),
  '1e9',
  'NaN',
  '.END_',
  '.NOTES',
  '"',
  '360',
  'R9999999X1',
  'M48',
  'M30',
  'G85',
  'G91',
  'T0',
  '\0',
  '\u2028',
  '\ud800',
  '%SRX9Y9I1J1*%',
  '%ABD12*%',
]

/** A good file with pieces cut out, doubled, moved or put in. */
const damaged = fc
  .tuple(
    fc.constantFrom(...GOOD),
    fc.array(fc.tuple(fc.nat(), fc.nat(40), fc.nat(3), fc.constantFrom(...WORDS)), { minLength: 1, maxLength: 6 }),
  )
  .map(([name, cuts]) => {
    let { text } = fixture(name)
    for (const [where, length, kind, word] of cuts) {
      const at = where % (text.length + 1)
      const piece = text.slice(at, at + length)
      if (kind === 0) text = text.slice(0, at) + text.slice(at + length)
      else if (kind === 1) text = text.slice(0, at) + piece + text.slice(at)
      else if (kind === 2) text = text.slice(0, at) + word + text.slice(at)
      else text = text.slice(0, at) + word + text.slice(at + length)
    }
    return { name, text }
  })

describe('readers of board files, whatever comes in', () => {
  it('give a footprint that can be read, or problems with file, line, found and expected', () => {
    const seen = { taken: 0, refused: 0 }
    fc.assert(
      fc.property(damaged, fc.boolean(), (file, alone) => {
        const result = bring(alone ? [file] : [file, ...GOOD.slice(2, 5).filter((n) => n !== file.name)])
        if (result.ok) {
          seen.taken++
          expect(readFootprintValue(result.footprint, 'f').ok).toBe(true)
        } else {
          seen.refused++
          expect(result.problems.length).toBeGreaterThan(0)
          for (const p of result.problems) {
            expect(p.found).not.toBe('')
            expect(p.expected).not.toBe('')
          }
        }
      }),
      { numRuns: LONG ? 20_000 : 300 },
    )
    expect(Math.min(seen.taken, seen.refused)).toBeGreaterThan(20)
  })

  it('take letters at random', () => {
    const starts = [
      '',
      '.HEADER\n',
      'M48\n',
      '%FSLAX46Y46*%\n%MOMM*%\n%ADD10C,0.1*%\nD10*\n',
      'M48\nMETRIC\nT1C1.0\n%\nT1\n',
    ]
    const sign = fc.constantFrom(...'GDXYIJMTRC%*.,-+0123456789;" \n')
    fc.assert(
      fc.property(fc.constantFrom(...starts), fc.string({ unit: sign, maxLength: 200 }), (start, rest) => {
        expect(typeof bring([{ name: 'a', text: start + rest }]).ok).toBe('boolean')
      }),
      { numRuns: LONG ? 50_000 : 600 },
    )
  })
})

describe('large files', () => {
  const SOME = LONG ? 300_000 : 6_000
  /** Seconds of work, not of the clock: other tests run beside this one. */
  const within = (seconds: number, run: () => void) => {
    const before = process.cpuUsage()
    run()
    const { user, system } = process.cpuUsage(before)
    expect((user + system) / 1e6).toBeLessThan(seconds)
  }
  const many = (n: number, line: (i: number) => string) => Array.from({ length: n }, (_, i) => line(i)).join('\n')
  const gerber = (body: string) => ({
    name: 'a.gbr',
    text: `%FSLAX36Y36*%\n%MOMM*%\n%ADD10C,0.1*%\nD10*\n${body}\nM02*`,
  })

  it('ends all at one place, or beside one another, do not hang the chaining', () => {
    const star = gerber(many(SOME, (i) => `X0Y0D02*X${1_000_000 + i * 7}Y${i}D01*`))
    within(8, () => expect(typeof bring([star]).ok).toBe('boolean'))
    const dust = gerber(
      many(
        SOME,
        (i) => `X${(i * 7919) % 90_000}Y${(i * 104729) % 90_000}D02*X${(i * 31) % 90_000}Y${(i * 17) % 90_000}D01*`,
      ),
    )
    within(8, () => expect(typeof bring([dust]).ok).toBe('boolean'))
  })

  it('a fine polygon and many holes are read', () => {
    const n = LONG ? 300_000 : 30_000
    const at = (i: number) => [Math.cos, Math.sin].map((f) => Math.round(600_000_000 * f((2 * Math.PI * i) / n)))
    const ring = gerber(`X600000000Y0D02*\n${many(n, (i) => `X${at(i + 1)[0]}Y${at(i + 1)[1]}D01*`)}`)
    const drill = `M48\nMETRIC\nT1C0.5\nT2C3.2\n%\nT1\n${many(n, (i) => `X${((i % 300) / 10).toFixed(1)}Y${(i / 20_000).toFixed(5)}`)}\nT2\nX20.0Y20.0\nM30`
    within(10, () => {
      const result = bring([ring, { name: 'a.drl', text: drill }])
      expect(result).toMatchObject({
        ok: true,
        footprint: { body: { width: 1200, depth: 1200 }, mount: { holes: [{ at: [620, 620] }] } },
      })
    })
  })

  // the short run has one such limit, the holes
  it.runIf(LONG)('more than a million segments are refused in words', () => {
    const route = `X0Y0D02*\n${'X1D01*\n'.repeat(1_000_001)}`
    within(8, () =>
      expect(bring([gerber(route)])).toMatchObject({
        ok: false,
        problems: [{ expected: 'at most 1000000 in a file' }],
      }),
    )
  })

  it('more than a million holes are refused in words', () => {
    const drill = `M48\nMETRIC\nT1C0.5\n%\nT1\nR999999X0.1\nR999999X0.1\nM30`
    within(8, () =>
      expect(bring(['inch-outline.gbr', { name: 'a.drl', text: drill }])).toMatchObject({
        ok: false,
        problems: [{ expected: 'at most 1000000 holes' }],
      }),
    )
  })
})
