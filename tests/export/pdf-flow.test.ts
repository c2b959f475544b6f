/** What stands on one page, block by block. */
import { describe, expect, it } from 'vitest'
import { type Block, flow } from '../../src/export/pdf-flow.ts'
import { papers, windowOf } from '../../src/export/pdf-paper.ts'
import { openPress } from '../../src/export/pdf-press.ts'

const room = windowOf(papers.A4)
const tall = room.y1 - room.y0

const plan = (name: string, part: number): Block[] => [
  { kind: 'heading', text: `heading of ${name}` },
  { kind: 'text', text: `caption of ${name}` },
  {
    kind: 'picture',
    height: tall * part,
    draw: ({ x0, y0 }) => [{ kind: 'text', x: x0, y: y0, size: 3, text: `picture of ${name}` }],
  },
]

/** What is written on each page, from the top, without its frame. */
const written = async (blocks: readonly Block[]): Promise<string[][]> =>
  flow(await openPress(), papers.A4, 'title', 'label', blocks).map((page) =>
    page.inks.flatMap((ink) => (ink.kind === 'text' && / of (one|two|three)$/.test(ink.text) ? [ink.text] : [])),
  )

const whole = (name: string): string[] => ['heading', 'caption', 'picture'].map((what) => `${what} of ${name}`)

describe('printed pages', () => {
  it('have a picture under its own heading and caption', async () => {
    expect(await written([...plan('one', 0.4), ...plan('two', 0.4), ...plan('three', 0.3)])).toEqual([
      [...whole('one'), ...whole('two')],
      whole('three'),
    ])
    // there would be room for its heading beside the first, but not for it
    expect(await written([...plan('one', 0.6), ...plan('two', 0.38)])).toEqual([whole('one'), whole('two')])
  })

  const lines = (n: number, signed?: string): Block[] => [
    {
      kind: 'ticks',
      steps: Array.from({ length: n }, (_, i) => ({ text: `step ${i} of one` })),
      ...(signed ? { signed } : {}),
    },
  ]

  it('stand closer where that saves a page that would hold next to nothing, and only there', async () => {
    // 4.2 mm and 1.4 each
    const full = Math.floor(tall / 5.6)
    const pages = async (n: number) => (await written(lines(n))).map((p) => p.length)
    expect(await pages(full)).toEqual([full])
    expect(await pages(full + 2)).toEqual([full + 2])
    // a third of a page is worth its paper
    expect(await pages(full + 15)).toEqual([full, 15])
  })

  it('have what is signed under the last step', async () => {
    const full = Math.floor(tall / 5.6)
    for (const n of [full - 2, full - 1, full, 2 * full - 1]) {
      const last = (await written(lines(n, 'signed of two'))).at(-1)!
      expect(last.slice(-2), `${n}`).toEqual([`step ${n - 1} of one`, 'signed of two'])
    }
  })

  it('have a table under its own heading and words, however tall its first row is', async () => {
    const long = Array.from({ length: 12 }, (_, i) => `word${i}`).join(' ')
    const table = (name: string): Block[] => [
      { kind: 'heading', text: `heading of ${name}` },
      { kind: 'text', text: `caption of ${name}` },
      {
        kind: 'table',
        columns: [{ head: `head of ${name}`, share: 1 }, ...Array.from({ length: 7 }, () => ({ head: 'h', share: 1 }))],
        rows: [[`row of ${name}`, long, long, long, long, long, long, long]],
        none: 'none',
      },
    ]
    const all = ['heading', 'caption', 'head', 'row'].map((what) => `${what} of two`)
    for (let part = 0.5; part < 1; part += 0.01) {
      const pages = await written([...plan('one', part), ...table('two')])
      expect(
        pages
          .filter((page) => page.some((text) => text.endsWith('two')))
          .map((page) => page.filter((t) => t.endsWith('two'))),
        `${part}`,
      ).toEqual([all])
    }
  })
})
