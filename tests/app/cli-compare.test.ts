/** Variants side by side on threads, as typed: the same answers as one after another, from anywhere, and Ctrl-C. */
import { spawn } from 'node:child_process'
import { symlinkSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, bin, crowd, folder, LONG, plate, run, start, tilted } from './cli.ts'

const here = folder()
afterAll(here.remove)

const edges = ['left', 'right', 'front', 'back'] as const
/** Five variants that are soon done, one of them impossible. */
const soon = here.put('soon.json', {
  ...plate(),
  variants: [
    ...edges.map((edge) => ({ id: edge, items: { two: { place: [{ kind: 'edge', edge, within: 0 }] } } })),
    { id: 'tight', decks: { main: { outline: { rect: [0, 0, 32, 15] } } } },
  ],
})
/** Variants that are never done. */
const crowded = (count: number) =>
  here.put(`crowd-${count}.json`, {
    ...crowd(),
    variants: Array.from({ length: count }, (_, k) => ({ id: `v${k}`, settings: { itemClearance: k / 10 } })),
  })

interface Variant {
  id: string
  layout: { status: string; seconds: number; placements: unknown[] }
}
const variantsOf = (text: string): Variant[] => JSON.parse(text).variants

describe('compare on threads', () => {
  it('says of each variant what solve says of it alone, in the order asked for', async () => {
    const ran = await run(['compare', soon, '--variants', 'tight,back,left,front,right', '--json'])
    expect(ran).toMatchObject({ code: 0, err: '' })
    const variants = variantsOf(ran.out)
    expect(variants.map((v) => v.id)).toEqual(['tight', 'back', 'left', 'front', 'right'])
    expect(new Set(variants.map((v) => v.layout.status))).toEqual(new Set(['infeasible', 'optimal']))
    for (const v of variants) {
      const alone = JSON.parse((await asked(['solve', soon, '--variant', v.id])).out)
      expect({ ...v.layout, seconds: 0 }).toEqual({ ...alone, seconds: 0 })
    }
  })

  it('gives figures as the layout beside them has them, to a micrometre', async () => {
    const [variant] = JSON.parse((await asked(['compare', '-', '--json'], JSON.stringify(tilted()))).out).variants
    const balance = variant.layout.objectives.find((o: { name: string }) => o.name === 'balance').value
    expect(variant.balance).toBe(balance)
    expect(balance).toBe(Math.round(balance * 1000) / 1000)
  })

  it('gives the same bytes again but for the seconds', async () => {
    const [a, b] = [await asked(['compare', soon, '--json']), await asked(['compare', soon, '--json'])]
    const steady = (text: string): string => text.replace(/"seconds": [\d.]+/g, '"seconds": 0')
    expect(steady(a.out)).toBe(steady(b.out))
  })

  it('works from another folder, through a link to the bin', async () => {
    const link = join(here.path, 'deckwright')
    symlinkSync(bin, link)
    const child = spawn(link, ['compare', 'soon.json'], { cwd: here.path, stdio: ['ignore', 'pipe', 'inherit'] })
    let out = ''
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text
    })
    expect(await new Promise((settle) => child.once('close', settle))).toBe(0)
    expect(out).toMatch(/^variant +/)
  })

  it.runIf(LONG)('runs them at the same time, and counts each one’s own', async () => {
    const file = crowded(3)
    const ran = await run(['compare', file, '--time', '2', '--json'])
    expect([0, 3]).toContain(ran.code)
    for (const v of variantsOf(ran.out)) {
      // on a busy machine two seconds may be too few for a first layout
      expect(['feasible', 'unknown']).toContain(v.layout.status)
      expect(v.layout.seconds).toBeGreaterThan(1.9)
      expect(v.layout.seconds).toBeLessThan(2.8)
    }
    // one after another would take six seconds, two at a time four
    if (availableParallelism() > 1) expect(ran.ms).toBeLessThan(5900)
  })

  it('ends at Ctrl-C with the best of each so far; what has not begun has none', async () => {
    const count = availableParallelism() + 1
    const file = crowded(count)
    const { child, done } = start(['compare', file, '--time', '60', '--json'])
    await new Promise((go) => setTimeout(go, 1800))
    child.kill('SIGINT')
    const at = performance.now()
    const ran = await done
    expect(performance.now() - at).toBeLessThan(1000)
    const variants = variantsOf(ran.out)
    expect(variants.length).toBe(count)
    for (const v of variants) expect(['feasible', 'unknown']).toContain(v.layout.status)
    expect(variants.at(-1)!.layout).toMatchObject({ status: 'unknown', placements: [] })
    expect(ran.code).toBe(3)
    for (const v of variants) {
      if (v.layout.status !== 'feasible') continue
      expect((await asked(['check', file, '-'], JSON.stringify(v.layout))).code, v.id).toBe(0)
    }
  })

  it.runIf(LONG)('ends at Ctrl-C while it still prepares, with nothing', async () => {
    const wide = { rect: [0, 0, 900, 900] }
    const { decks, items, ...rest } = crowd()
    const file = here.put('wide.json', {
      ...rest,
      decks: [{ ...decks[0], outline: wide }],
      items: items.map((i) => ({ ...i, required: true })),
      settings: { grid: 0.8 },
    })
    const { child, done } = start(['solve', file, '--time', '60'])
    await new Promise((go) => setTimeout(go, 2500))
    child.kill('SIGINT')
    const at = performance.now()
    const ran = await done
    expect(performance.now() - at).toBeLessThan(1000)
    expect(ran.code).toBe(JSON.parse(ran.out).status === 'unknown' ? 3 : 0)
  })

  it('says what is wrong with a file, and ends, though threads were waiting', async () => {
    const ran = await run(['compare', '-'], '{"format":"deckwright-project"}')
    expect(ran.code).toBe(2)
    expect(ran.out).toBe('')
    expect(ran.ms).toBeLessThan(5000)
  })
})
