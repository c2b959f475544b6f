/** `solve` and `compare`, as typed: exit codes, files, limits, Ctrl-C, and what is shown to people. */
import { execFile, spawn } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, describe, expect, it } from 'vitest'
import { asked, bin, crowd, folder, LONG, plate, root, run, start, tilted } from './cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const big = here.put('crowd.json', crowd())

const steady = (text: string): string => text.replace(/"seconds": [\d.]+/, '"seconds": 0')

/** The plate's layout, typed once for all that look at it. */
const plain = run(['solve', project])

describe('solve', () => {
  it('prints a layout that check calls legal, and ends with 0', async () => {
    const ran = await plain
    expect(ran.code).toBe(0)
    expect(ran.err).toBe('')
    const layout = JSON.parse(ran.out)
    expect(layout).toMatchObject({
      format: 'deckwright-layout',
      version: 1,
      variant: 'wide',
      status: 'optimal',
      grid: 1,
    })
    expect(layout.placements.map((p: { item: string }) => p.item)).toEqual(['one', 'two'])
    expect(layout.seconds).toBeGreaterThan(0)
    expect((await run(['check', project, '-'], ran.out)).code).toBe(0)
  })

  it('lays out a project without items, and without wires there is nothing to shorten', async () => {
    const ran = await asked(['solve', '-'], JSON.stringify({ ...plate(), items: [], wires: [], variants: [] }))
    expect(ran.code).toBe(0)
    const layout = JSON.parse(ran.out)
    expect(layout).toMatchObject({ status: 'optimal', placements: [], leftOut: [], freeTiePoints: 0, freeArea: 0 })
    for (const o of layout.objectives) {
      if (o.name !== 'balance') expect(o).toMatchObject({ value: 0, bound: 0, proven: true })
    }
  })

  it('finds the shortest wire: the tile hangs beside the lead', async () => {
    const layout = JSON.parse((await plain).out)
    // The terminal is the middle of the tile's short side, the lead 2 mm from the back edge. Turned by a quarter, the
    // short side lies along the edge; the holes keep 2 mm of web, so only the body's own edge limits: 0 to 2 mm away.
    const wire = layout.wires.find((w: { id: string }) => w.id === 'red')
    expect(wire.length).toBeLessThanOrEqual(2)
    expect(wire.cut).toBeCloseTo(wire.length + 10, 9)
  })

  it('takes the variant, and ends with 1 and a conflict where nothing fits', async () => {
    const ran = await run(['solve', project, '--variant', 'tight'])
    expect(ran.code).toBe(1)
    const layout = JSON.parse(ran.out)
    expect(layout).toMatchObject({ status: 'infeasible', placements: [], variant: 'tight' })
    expect(layout.conflict.length).toBeGreaterThan(0)
    for (const member of layout.conflict) expect(member.rule).toMatch(/^R\d+$/)
  })

  it('writes to a file instead, whole, over what was there', async () => {
    const file = here.put('layout.json', 'old')
    const ran = await asked(['solve', project, '--out', file])
    expect(ran).toMatchObject({ code: 0, out: '' })
    expect(JSON.parse(readFileSync(file, 'utf8')).status).toBe('optimal')
  })

  it('writes the answer that there is none as well', async () => {
    const file = join(here.path, 'none.json')
    expect((await asked(['solve', project, '--variant', 'tight', '--out', file])).code).toBe(1)
    expect(JSON.parse(readFileSync(file, 'utf8')).status).toBe('infeasible')
  })

  it('ends with 3 when the time is over before anything is found', async () => {
    const ran = await asked(['solve', big, '--time', '0'])
    expect(ran.code).toBe(3)
    expect(JSON.parse(ran.out)).toMatchObject({ status: 'unknown', placements: [] })
  })

  it('reads standard input', async () => {
    const ran = await run(['solve', '-'], readFileSync(project, 'utf8'))
    expect(ran.code).toBe(0)
  })

  it('gives the same bytes again but for the seconds, run to its end or limited by steps', async () => {
    const limited = ['solve', big, '--steps', LONG ? '2000' : '500']
    for (const [first, second] of [
      [await plain, await asked(['solve', project])],
      [await asked(limited), await asked(limited)],
    ] as const) {
      expect(steady(first.out)).toBe(steady(second.out))
      expect(first.code).toBe(second.code)
    }
  })

  it('keeps to its time, counted from reading the file', async () => {
    const time = LONG ? 1 : 0.5
    const ran = await run(['solve', big, '--time', `${time}`])
    expect([0, 3]).toContain(ran.code)
    expect(JSON.parse(ran.out).seconds).toBeLessThan(time + 0.6)
    expect(ran.ms).toBeLessThan(1000 * time + 1600)
  })

  it('says how it goes, one line of JSON each, bounds and values in mm', async () => {
    const ran = await asked(['solve', '-', '--progress'], JSON.stringify({ ...tilted(), colour: 'red' }))
    const lines = ran.err
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(lines.some((l) => l.warning?.path === 'colour')).toBe(true)
    const steps = lines.filter((l) => l.phase !== undefined)
    expect(steps.length).toBeGreaterThan(0)
    const wires = steps.filter((l) => l.phase === 'wire-length' && l.value !== undefined)
    for (const w of wires) expect(w.value).toBeLessThan(200)
    const balances = steps.filter((l) => l.phase === 'balance').flatMap((l) => [l.value, l.bound])
    expect(balances.length).toBeGreaterThan(0)
    for (const b of balances) expect(b).toBe(Math.round(b * 1000) / 1000)
  })

  it('ends at Ctrl-C with the best so far', async () => {
    const { child, done } = start(['solve', big, '--time', '60', ...(LONG ? [] : ['--progress'])])
    // it hears signals once it says how it goes
    await new Promise((go) => (LONG ? setTimeout(go, 1500) : child.stderr!.once('data', go)))
    child.kill('SIGINT')
    const at = performance.now()
    const ran = await done
    expect(performance.now() - at).toBeLessThan(1500)
    const layout = JSON.parse(ran.out)
    expect(ran.code).toBe(layout.status === 'unknown' ? 3 : 0)
    if (ran.code === 0) expect((await asked(['check', big, '-'], ran.out)).code).toBe(0)
  })

  it.runIf(LONG)('does so through npm too, whether the whole group hears it or npm alone', async () => {
    for (const group of [true, false]) {
      const child = spawn('npm', ['run', '-s', 'deckwright', '--', 'solve', big, '--time', '60'], {
        cwd: root,
        detached: true,
        stdio: ['ignore', 'pipe', 'inherit'],
      })
      let out = ''
      child.stdout!.setEncoding('utf8').on('data', (text: string) => {
        out += text
      })
      await new Promise((go) => setTimeout(go, 1800))
      process.kill(group ? -child.pid! : child.pid!, 'SIGINT')
      const code = await new Promise((settle) => child.once('close', settle))
      const layout = JSON.parse(out)
      expect(code).toBe(layout.status === 'unknown' ? 3 : 0)
      expect(layout.seconds).toBeLessThan(6)
    }
  })

  it('ends without a word when nobody reads on', async () => {
    const shell = promisify(execFile)
    const { stderr } = await shell('sh', ['-c', `"${process.execPath}" "${bin}" solve "${project}" | true`])
    expect(stderr).toBe('')
  })
})

interface Variant {
  id: string
  name: string
  layout: { status: string; wires: { id: string; cut: number }[] }
}

describe('compare', () => {
  it('shows people a table without rule numbers and status words', async () => {
    const ran = await run(['compare', project])
    expect(ran.code).toBe(0)
    expect(ran.out).toMatch(/^variant +free contacts/)
    expect(ran.out).toContain('a wide plate')
    expect(ran.out).toMatch(/a tight plate: Cannot fit, because .+\.\n/)
    expect(ran.out).toContain('best possible')
    expect(ran.out).toMatch(/red +\d+\.\d mm/)
    expect(ran.out).not.toMatch(/\bR\d+\b|optimal|feasible|infeasible|unknown|undefined|NaN/)
    const [head, ...rows] = ran.out.split('\n\n')[0]!.split('\n')
    const column = head!.indexOf('free contacts')
    for (const row of rows) expect(row.slice(column - 2, column)).toBe('  ')
  })

  it('gives JSON with a layout each, and the longest cut of every wire', async () => {
    const wider = plate() as Record<string, unknown> & ReturnType<typeof plate>
    wider.variants = [
      { id: 'near', name: 'near' },
      { id: 'far', name: 'far', items: { one: { place: [{ kind: 'edge', edge: 'front', within: 0 }] } } },
    ]
    const ran = await asked(['compare', '-', '--json'], JSON.stringify(wider))
    expect(ran.code).toBe(0)
    type Cuts = Record<string, number>
    const said = JSON.parse(ran.out) as { variants: Variant[]; cutLengths: Cuts; laidCutLengths: Cuts }
    const { variants, cutLengths, laidCutLengths } = said
    expect(variants.map((v) => v.id)).toEqual(['near', 'far'])
    const cuts = variants.map((v) => v.layout.wires.find((w) => w.id === 'red')!.cut)
    expect(cuts[1]).toBeGreaterThan(cuts[0]!)
    expect(cutLengths).toEqual({ red: Math.max(...cuts) })
    // the lead comes up beside the tile, so nothing is in its way
    expect(laidCutLengths).toEqual(cutLengths)
    const single = JSON.parse((await asked(['solve', '-', '--variant', 'far'], JSON.stringify(wider))).out)
    expect({ ...single, seconds: 0 }).toEqual({ ...variants[1]!.layout, seconds: 0 })
  })

  it('takes some of the variants, in the order asked for', async () => {
    const ran = await asked(['compare', project, '--variants', 'tight,wide', '--json'])
    expect(JSON.parse(ran.out).variants.map((v: Variant) => v.id)).toEqual(['tight', 'wide'])
  })

  it('ends with 3 when a variant has no answer in its time', async () => {
    expect((await asked(['compare', big, '--time', '0'])).code).toBe(3)
  })

  it.runIf(LONG)('compares every demo', async () => {
    for (const demo of ['greenhouse-scout', 'duct-inspector', 'shelf-reader']) {
      const ran = await run(['compare', join(root, `demo-data/${demo}.json`), '--time', '1.2', '--json'])
      expect(ran.code, demo).toBe(0)
      expect(existsSync(join(root, `demo-data/${demo}.json`))).toBe(true)
      for (const v of JSON.parse(ran.out).variants as Variant[]) {
        if (v.layout.status === 'infeasible') continue
        const file = join(root, `demo-data/${demo}.json`)
        expect((await run(['check', file, '-'], JSON.stringify(v.layout))).code, `${demo} ${v.id}`).toBe(0)
      }
    }
  })
})
