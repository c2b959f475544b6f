import { describe, expect, it } from 'vitest'
import { type Any, reportOf, robot } from './kit.ts'

const end = (item: string, terminal: string): Any => ({ item, terminal })
const stepsOf = (change?: (p: Any) => void) => reportOf(robot(change)).beforePower.steps
const find = (steps: ReturnType<typeof stepsOf>, words: RegExp) => {
  const at = steps.findIndex((s) => words.test(s.text))
  return { at, text: steps[at]?.text ?? '', items: steps[at]?.items ?? [] }
}

/** A regulator in the place of `line`, its input's way back in the net `return`, which is the answer. */
function regulated(p: Any): Any {
  p.footprints.push({
    id: 'step',
    body: { width: 20, depth: 10, height: 5 },
    mount: { kind: 'adhesive' },
    terminals: [
      { id: 'in', at: [1, 8], kind: 'supply-in', volts: [6, 12] },
      { id: 'in-back', at: [1, 2], kind: 'return' },
      { id: 'out', at: [19, 8], kind: 'logic-out', volts: [4.9, 5.1] },
      { id: 'out-back', at: [19, 2], kind: 'return' },
    ],
    power: { part: 'regulator', output: { volts: 5 } },
  })
  p.items.find((i: Any) => i.id === 'line').footprint = 'step'
  delete p.nets.at(-1).switch
  const back = p.nets.find((n: Any) => n.id === 'return')
  back.ends.push(end('line', 'in-back'))
  return back
}

describe('the check list before power is on', () => {
  // Order: the brief's own (disconnected first, wheels off the ground, motor by motor); common practice, no source.
  it('disconnects first, blocks the wheels up before power, and tries motor after motor after that', () => {
    const steps = stepsOf()
    const order = [
      /^Disconnect every supply/,
      /^Check the polarity of pack/,
      /^Common return/,
      /^No short circuit/,
      /^Switch off/,
      /off the ground, and hold it there/,
      /^Connect pack/,
      /^Motor one, left/,
      /^Motor two, right/,
      /^Stop if driver gets hot/,
      /on the ground, slowly/,
    ].map((words) => find(steps, words).at)
    expect(order.every((at) => at >= 0)).toBe(true)
    expect(order).toEqual([...order].sort((a, b) => a - b))
    expect(order[0]).toBe(0)
  })

  it('is not gone through with what is known to be wrong: that is mended first', () => {
    const first = (change?: (p: Any) => void) => stepsOf(change)[1]!.text
    expect(first()).not.toMatch(/stops? the job/)
    expect(first((p) => (p.footprints.find((f: Any) => f.id === 'pack').power.supply.fuse = undefined))).toBe(
      'One finding about wires and power stops the job: leave everything disconnected until it is mended.',
    )
  })

  it('comes with cautions, local codes and licensed practice before all', () => {
    const { cautions } = reportOf(robot()).beforePower
    expect(cautions[0]).toMatch(/Local codes.*licensed practice come first/)
    expect(cautions.join(' ')).toMatch(/short circuit/)
  })

  it('names this robot: supply, switches, fuse, leads and screws of each motor, what the upper deck hides', () => {
    const steps = stepsOf()
    expect(find(steps, /^Disconnect/).text).toBe('Disconnect every supply: pack, and the data lead of brain.')
    expect(find(steps, /^Before deck top/).items).toEqual(['top', 'pack'])
    expect(find(steps, /^Check the polarity/).text).toMatch(
      /Plus: pack, plus goes to master, in\. Minus: pack, minus goes to the net return, listed below\.$/,
    )
    expect(find(steps, /^Common return/).text).toMatch(
      /\(net return\): pack, minus; brain, gnd; driver, 2; driver, supply-return\.$/,
    )
    expect(find(steps, /right fuse/).text).toMatch(/pack: 3 A/)
    expect(find(steps, /^Switch off/).text).toMatch(/^Switch off: master\./)
    expect(find(steps, /^Motor one/).text).toMatch(
      /^Motor one, left: .* forward\? If not, switch off at master, swap the two conductors of the lead motor-left at driver, motor-1, and try again\.$/,
    )
    expect(find(steps, /^Motor two/).items).toEqual(['right', 'motor-right', 'driver'])
  })

  it('names at a regulator the return beside its output, whatever net its input has, and at a pack all that there are', () => {
    const steps = (apart: boolean) =>
      stepsOf((p) => {
        const back = regulated(p)
        if (apart) p.nets.push({ id: 'quiet', ends: [end('line', 'out-back'), end('eye', 'out')] })
        else back.ends.push(end('line', 'out-back'))
        p.footprints.find((f: Any) => f.id === 'pack').terminals.push({ id: 'tap', at: [2, 2], kind: 'return' })
        p.nets.push({ id: 'tapped', ends: [end('pack', 'tap'), end('master', 'in')] })
      })
    const minus = (list: ReturnType<typeof stepsOf>, of: RegExp) => find(list, of).text.match(/Minus: [^.]*/g)
    expect(minus(steps(false), /output of line/)).toEqual([
      'Minus: line, out-back goes to the net return, listed below',
    ])
    expect(minus(steps(true), /output of line/)).toEqual(['Minus: line, out-back goes to the net quiet, listed below'])
    expect(minus(steps(true), /polarity of pack/)).toEqual([
      'Minus: pack, minus goes to the net return, listed below',
      'Minus: pack, tap goes to the net tapped, listed below',
    ])
  })

  it('names at a regulator the lead that goes back from its output, not the return of its input that is in a net', () => {
    const polarity = (more: Any[], plusInNet = false) =>
      find(
        stepsOf((p) => {
          regulated(p)
          if (plusInNet) p.nets.push({ id: 'five', ends: [end('line', 'out'), end('eye', 'out')] })
          const lead = { from: end('line', 'out'), to: end('eye', 'out'), supply: 'line', gauge: 20, conductors: 1 }
          p.wires.push(...more.map((m, i) => ({ ...lead, id: `eye-${i}`, ...m })))
        }),
        /output of line/,
      ).text.match(/Plus.*/)?.[0]
    const back = { path: 'back', from: end('line', 'out-back') }
    expect(polarity([{ path: 'out' }, back])).toBe(
      'Plus: the lead eye-0 goes to eye. Minus: the lead eye-1 goes to eye.',
    )
    expect(polarity([{ conductors: 2 }])).toBe('Plus and minus: the lead eye-0 goes to eye.')
    // the net says where its plus goes, the pair alone where its minus does
    expect(polarity([{ conductors: 2 }], true)).toBe(
      'Plus: line, out goes to eye, out. Minus: the lead eye-0 goes to eye.',
    )
    // where no lead goes back, the return in the net is all there is
    expect(polarity([{ path: 'out' }])).toBe(
      'Plus: the lead eye-0 goes to eye. Minus: line, in-back goes to the net return, listed below.',
    )
  })

  it('names at a pack the lead that leaves its plus beside a net there, which says nothing of it', () => {
    const steps = stepsOf((p) => {
      const lead = { supply: 'pack', gauge: 20, conductors: 2 }
      p.wires.push({ ...lead, id: 'eye', from: end('pack', 'plus'), to: end('eye', 'out') })
    })
    expect(find(steps, /polarity of pack/).text).toMatch(
      /Plus: pack, plus goes to master, in\. Plus and minus: the lead eye goes to eye\. Minus: pack, minus goes to the net/,
    )
  })

  it('swaps two leads where each is one conductor, and switches off at a pack with its own switch', () => {
    const steps = stepsOf((p) => {
      p.wires = [
        ...p.wires.filter((w: Any) => w.id !== 'motor-left'),
        ...['out', 'back'].map((path) => ({ ...p.wires[3], id: `left-${path}`, path, conductors: 1 })),
      ]
      p.footprints[0].power.supply.switched = true
      p.items = p.items.filter((i: Any) => i.id !== 'master')
      p.wires = p.wires.filter((w: Any) => w.from.item !== 'master' && w.to.item !== 'master')
      p.nets = p.nets.filter((n: Any) => n.id !== 'battery' && n.id !== 'fed')
    })
    expect(find(steps, /^Motor one/).text).toMatch(
      /switch off at the switch of pack, swap the leads left-out and left-back at driver, motor-1, and try again/,
    )
    expect(find(steps, /^Switch off/).items).toEqual(['pack'])
  })

  it('asks for the switch in the line of the program, or for the lead to be pulled where there is none', () => {
    expect(find(stepsOf(), /^Open line, the switch in net talk/).items).toEqual(['line', 'talk'])
    const bare = stepsOf((p) => {
      delete p.nets.find((n: Any) => n.id === 'talk').switch
    })
    expect(find(bare, /^Open line/).at).toBe(-1)
    expect(find(bare, /^Pull the lead of net talk off driver, 5/).at).toBeGreaterThan(0)
  })

  const talkThrough = (by: string, more: (p: Any) => void = () => {}) =>
    stepsOf((p) => {
      p.nets.find((n: Any) => n.id === 'talk').switch = by
      more(p)
    })

  it('asks for the lead to be pulled where its switch is another one, which stays a switch to stop the robot by', () => {
    // both terminals of master are the battery's, by nets and by leads
    const steps = talkThrough('master')
    expect(find(steps, /^Open /).at).toBe(-1)
    expect(find(steps, /^Pull the lead of net talk off driver, 5/).items).toEqual(['talk'])
    expect(find(steps, /^Switch off: master\./).items).toEqual(['master'])
    expect(find(steps, /^Keep the plug/).at).toBe(-1)
    expect(find(steps, /^Motor one/).text).toMatch(/If not, switch off at master,/)
    expect(find(steps, /^Then on the ground/).text).toMatch(/one hand at the switch/)
  })

  it('goes by a switch that the net of a supply is led through, and by the plug where leads go past it', () => {
    const led = (past: boolean) =>
      talkThrough('master', (p) => {
        p.nets = p.nets.filter((n: Any) => n.id !== 'battery' && n.id !== 'fed')
        const ends = [end('pack', 'plus'), end('brain', 'vin'), end('driver', 'supply')]
        p.nets.unshift({ id: 'battery', switch: 'master', ends })
        p.wires = p.wires.filter((w: Any) => w.from.exit)
        const lead = { gauge: 20, supply: 'pack', conductors: 2 }
        if (past) p.wires.push({ ...lead, id: 'straight', from: end('pack', 'plus'), to: end('driver', 'supply') })
      })
    const [through, past] = [led(false), led(true)]
    for (const steps of [through, past]) {
      expect(find(steps, /^Switch off: master\./).at).toBeGreaterThan(0)
      expect(find(steps, /^Connect pack alone and switch on master\./).at).toBeGreaterThan(0)
      expect(find(steps, /names no master switch/).at).toBe(-1)
    }
    expect(find(through, /^Keep the plug/).at).toBe(-1)
    expect(find(through, /^Motor one/).text).toMatch(/If not, switch off at master,/)
    expect(find(past, /^Keep the plug of pack in one hand, .* no one switch turns off everything/).items).toEqual([
      'pack',
    ])
    expect(find(past, /^Motor one/).text).toMatch(/If not, disconnect the supply,/)
    expect(find(past, /^Then on the ground/).text).toMatch(/one hand at the plug of the supply/)
  })

  it('says polarity by leads where no net does, and asks for a fuse where there is none', () => {
    const steps = stepsOf((p) => {
      p.nets = []
      p.footprints[0].power.supply = { volts: 3.7, cells: 2 }
    })
    expect(find(steps, /^Check the polarity/).text).toMatch(/Plus and minus: the lead battery goes to master\.$/)
    expect(find(steps, /^Fit a fuse/).items).toEqual(['pack'])
    expect(find(steps, /^Common return/).text).toMatch(/returns \(minus\) of pack, brain and driver are one conductor/)
  })

  it('asks for a fuse for each pack that none guards, whatever guards another', () => {
    // the master is a fuse, and the eye has cells of its own, which go straight to the brain
    const steps = stepsOf((p) => {
      p.footprints.find((f: Any) => f.id === 'pack').power.supply.fuse = undefined
      p.items.find((i: Any) => i.id === 'master').power = { part: 'fuse', rating: 5 }
      p.items.find((i: Any) => i.id === 'eye').power = { supply: { cells: 2, volts: 1.5 } }
      const to = { item: 'brain', terminal: 'vin' }
      p.wires.push({ id: 'own', from: { item: 'eye', terminal: 'out' }, to, supply: 'eye', conductors: 2 })
    })
    expect(find(steps, /right fuse/).items).toEqual(['master'])
    expect(find(steps, /^Fit a fuse/).items).toEqual(['eye'])
  })

  it('takes every lead that comes through a deck for a motor where none says so, and says that it does', () => {
    const report = reportOf(
      robot((p) => {
        for (const e of p.exits) {
          delete e.kind
          delete e.load
        }
        for (const t of p.footprints.find((f: Any) => f.id === 'driver').terminals)
          if (t.id.startsWith('motor')) delete t.kind
      }),
    )
    expect(report.beforePower.steps.filter((s) => s.text.startsWith('Motor '))).toHaveLength(2)
    expect(report.missing.filter((m) => m.part === 'before-power')[0]?.field).toMatch(/motor-pair/)
    expect(reportOf(robot()).missing.filter((m) => m.part === 'before-power')).toEqual([])
  })
})
