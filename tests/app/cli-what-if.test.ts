/** `what-if` and `solve --loosen`, as typed: answers for people and as JSON, exit codes, patches that do what they say. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, crowd, folder, LONG, plate, root, run, some, told } from './cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const shelf = join(root, 'demo-data/shelf-reader.json')

interface Op {
  op: 'add'
  path: string
  value: unknown
}

/** RFC 6902, `add` of what is no entry of a list, written here anew. */
function patched(document: unknown, patch: readonly Op[]): Record<string, unknown> {
  const whole = structuredClone(document) as Record<string, unknown>
  for (const { op, path, value } of patch) {
    expect(op).toBe('add')
    const steps = path.split('/').slice(1)
    const last = steps.pop()!
    const holder = steps.reduce<Record<string, unknown>>((n, s) => n[s] as Record<string, unknown>, whole)
    holder[last] = value
  }
  return whole
}

const words = /\bR\d+\b|optimal|feasible|infeasible|unknown|undefined|NaN|null/

describe('what-if --smallest-deck', () => {
  it('answers in sentences', async () => {
    const ran = await run(['what-if', project, '--smallest-deck', 'width'])
    expect(ran).toMatchObject({ code: 0, err: '' })
    expect(ran.out).toMatch(
      /^Everything fits on deck main of 30 mm length and \d+ mm width\. Deck main \d+ mm narrower/,
    )
    expect(ran.out).not.toMatch(words)
    // what was proven is of what was varied, and of no other size
    const both = await asked(['what-if', project, '--smallest-deck', 'both'])
    expect(both.out).toContain('No smaller size of the same proportion does')
  })

  it('speaks of everything only where what is optional was asked for too', async () => {
    const { items, ...rest } = plate()
    const more = JSON.stringify({ ...rest, items: items.map((i, k) => (k === 0 ? i : { ...i, required: false })) })
    const said = async (...all: string[]) =>
      (await asked(['what-if', '-', '--smallest-deck', 'width', ...all], more)).out
    expect(await said()).toMatch(/^Everything required fits on deck main of /)
    expect(await said('--all')).toMatch(/^Everything fits on deck main of /)
  })

  it('gives a patch and a layout that check calls legal', async () => {
    const ran = await asked(['what-if', project, '--smallest-deck', 'both', '--json'])
    const answer = JSON.parse(ran.out)
    expect(answer).toMatchObject({ question: 'smallest-deck', answer: 'found', below: 'proven', smallest: true })
    const smaller = here.put('smaller.json', patched(plate(), answer.patch))
    const layout = here.put('smaller-layout.json', answer.layout)
    expect((await asked(['check', smaller, layout])).code).toBe(0)
    const again = JSON.parse((await asked(['what-if', smaller, '--smallest-deck', 'both', '--json'])).out)
    expect(again.to.length).toBeCloseTo(answer.to.length, 0)
  })

  it('grows a deck that is too small, and ends with 1 where no size helps', async () => {
    const grown = await asked(['what-if', project, '--variant', 'tight', '--smallest-deck', 'length'])
    expect(grown.code).toBe(0)
    expect(grown.out).toMatch(/longer \(15 → \d+ mm\)/)
    const narrow = {
      ...plate(),
      variants: [],
      decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 8, 30] } }],
    }
    const none = await asked(
      ['what-if', '-', '--smallest-deck', 'length'],
      JSON.stringify({ ...narrow, exits: [], wires: [] }),
    )
    expect(none.code).toBe(1)
    expect(none.out).toMatch(/^Not everything fits on deck main at any length up to /)
  })
})

describe('what-if --one-more', () => {
  it('says that one fits, or what it takes, with patches that work', async () => {
    expect((await asked(['what-if', project, '--one-more', 'two'])).out).toMatch(
      /^One more two fits as things stand: 2 in all/,
    )
    const small = {
      ...plate(),
      variants: [],
      decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 24, 28] } }],
    }
    const file = here.put('small.json', { ...small, exits: [], wires: [] })
    const ran = await asked(['what-if', file, '--one-more', 'one', '--json'])
    expect(ran.code).toBe(0)
    const said = (await asked(['what-if', file, '--one-more', 'one'])).out
    expect(said).toMatch(/^ {2}.*\. A change 1 mm smaller does not do\.$/m)
    const answer = JSON.parse(ran.out)
    if (answer.answer === 'fits') throw new Error('the plate of this test is not small enough')
    expect(answer.loosenings.length).toBeGreaterThan(0)
    for (const l of answer.loosenings) {
      const done = patched(patched({ ...small, exits: [], wires: [] }, answer.patch), l.patch)
      const changed = here.put('changed.json', done)
      const layout = { format: 'deckwright-layout', version: 1, placements: l.placements }
      expect((await told(['check', changed, here.put('l.json', layout)])).code, l.text).toBe(0)
      expect((await asked(['solve', changed])).code, l.text).toBe(0)
    }
  })
})

describe('what-if --trade-offs and --different', () => {
  it.runIf(LONG)('lists layouts, none beaten by another, each legal', async () => {
    const ran = await run(['what-if', shelf, '--variant', 'new-leads', '--trade-offs', '--time', '3', '--json'])
    expect(ran.code).toBe(0)
    const answer = JSON.parse(ran.out)
    expect(answer.layouts.length).toBeGreaterThan(1)
    for (const l of answer.layouts) {
      expect((await run(['check', shelf, '-'], JSON.stringify(l.layout))).code).toBe(0)
      for (const o of answer.layouts)
        expect(
          o !== l && o.freeTiePoints >= l.freeTiePoints && o.wireLength <= l.wireLength && o.balance <= l.balance,
        ).toBe(false)
    }
  })

  it('shows tables to people', async () => {
    const trade = await asked(['what-if', project, '--trade-offs'])
    expect(trade.code).toBe(0)
    expect(trade.out).toMatch(/ conductor +unbeaten\n1 +\d+\.\d mm +proven/)
    const other = await asked(['what-if', project, '--different', '2', '--slack', '10'])
    expect(other.code).toBe(0)
    expect(other.out).toMatch(/^2 other layouts with these figures\.\n/)
    // what stands in a column is explained below
    expect(other.out).toMatch(/ moved +at most\n[\s\S]* \d+ mm +\d+ mm\n[\s\S]*\nMoved: .*\nAt most: /)
    for (const out of [trade.out, other.out]) expect(out).not.toMatch(words)
  })
})

describe('what-if, the rest', () => {
  it('names what is wrong with a question', async () => {
    const rows: [string[], RegExp][] = [
      [[], /no question, expected one of --smallest-deck/],
      [['--trade-offs', '--different', '2'], /found --trade-offs and --different/],
      [['--smallest-deck', 'lenght'], /--smallest-deck: found "lenght", expected .*"length"/],
      [['--smallest-deck', 'length', '--deck', 'mian'], /--deck: found "mian", expected .*main/],
      [['--one-more', 'tow'], /--one-more: found "tow", expected .*two/],
      [
        ['--smallest-deck', 'x', '--deck', 'y', '--time', 'z'],
        /--time: found "z"[\s\S]*--smallest-deck: found "x"[\s\S]*--deck: found "y"/,
      ],
      [['--variant', 'tigth', '--steps', '0', '--trade-offs'], /--steps: found "0"[\s\S]*--variant: found "tigth"/],
      [['--different', '0'], /--different: found "0", expected a whole number/],
      [['--trade-offs', '--slack', '3'], /--slack: found with --trade-offs, expected with --different/],
    ]
    for (const [row, [args, say]] of rows.entries()) {
      const ran = await some(row)(['what-if', project, ...args])
      expect(ran.code, args.join(' ')).toBe(2)
      expect(ran.out).toBe('')
      expect(ran.err).toMatch(say)
    }
  })

  it('asks for no more copies than a file may have', async () => {
    const many = {
      ...plate(),
      variants: [],
      items: [{ id: 'two', footprint: plate().items[0]!.footprint, count: 200, required: false }],
    }
    const ran = await asked(['what-if', '-', '--one-more', 'two'], JSON.stringify({ ...many, wires: [], exits: [] }))
    expect(ran.code).toBe(2)
    expect(ran.err).toContain(
      '--one-more: found 200 two among 200 bodies, expected fewer than 200 of one and 500 in all',
    )
  })

  it('ends with 3 without an answer, and does not overrun its time', async () => {
    const big = here.put('crowd.json', crowd())
    const asks = [['--smallest-deck', 'length'], ['--trade-offs'], ['--different', '1'], ['--one-more', 'i0']]
    for (const [row, ask] of asks.entries()) {
      const ran = await some(row)(['what-if', big, ...ask, '--time', '0'])
      expect(ran.code, ask[0]).toBe(3)
      expect(ran.out).toMatch(/^No answer in this time/)
    }
    expect((await asked(['what-if', big, '--trade-offs', '--time', LONG ? '1' : '0.4'])).ms).toBeLessThan(
      LONG ? 8000 : 7400,
    )
  })

  it.runIf(LONG)('gives the same bytes again but for the seconds, limited by steps', async () => {
    const args = ['what-if', shelf, '--variant', 'new-leads', '--trade-offs', '--steps', '1000', '--json']
    const steady = (text: string) => text.replace(/"seconds": [\d.]+/, '"seconds": 0')
    expect(steady((await run(args)).out)).toBe(steady((await run(args)).out))
  })
})

describe('solve --loosen', () => {
  it('adds what would make it fit, each of which does', async () => {
    const [file, args] = LONG ? [shelf, []] : [project, ['--variant', 'tight']]
    const ran = await run(['solve', file, ...args, '--loosen'])
    expect(ran.code).toBe(1)
    const layout = JSON.parse(ran.out)
    expect(layout.status).toBe('infeasible')
    expect(layout.loosenings.length).toBeGreaterThan(0)
    const original = JSON.parse(readFileSync(file, 'utf8'))
    for (const l of layout.loosenings) {
      expect(l.text).toMatch(/\.$/)
      const changed = here.put('loose.json', patched(original, l.patch))
      const made = { format: 'deckwright-layout', version: 1, variant: layout.variant, placements: l.placements }
      expect((await told(['check', changed, here.put('made.json', made)])).code, l.text).toBe(0)
    }
    // the file is a layout like any other, its new fields known
    const checked = await asked(['check', file, '-'], ran.out)
    expect(checked.err).not.toMatch(/loosenings/)
  })

  it('adds nothing where there is a layout, or without being asked', async () => {
    expect(JSON.parse((await asked(['solve', project, '--loosen'])).out)).not.toHaveProperty('loosenings')
    expect(JSON.parse((await asked(['solve', project, '--variant', 'tight'])).out)).not.toHaveProperty('loosenings')
  })
})
