/** Packs in series, and in what order what gives power is turned on. */
import { describe, expect, it } from 'vitest'
import { clashes, connects, lacks, turns, wiring } from './wiring-kit.ts'

const ALL = { fuse: [], listFuse: [], switch: [], listSwitch: [] }
const text = (report: ReturnType<typeof wiring>, words: RegExp) =>
  report.beforePower.steps.find((s) => words.test(s.text))?.text

describe('packs in series', () => {
  const PACKS = 'pack-1 pack-2 fuse switch lamp-1'
  const joins = ['pack-1.plus fuse.in', 'fuse.out switch.in', 'switch.out lamp-1.plus', 'pack-2.minus lamp-1.minus']

  it('are no short circuit, joined by a net, a lead or a fuse; and behind one fuse and switch', () => {
    const direct = wiring(PACKS, ['pack-1.minus pack-2.plus', ...joins])
    for (const report of [direct, wiring(PACKS, joins, ['pack-1.minus pack-2.plus'])]) {
      expect(clashes(report)).toEqual([])
      expect(lacks(report)).toEqual(ALL)
    }
    expect(text(direct, /net n1/)).toBeUndefined()
    expect(text(direct, /polarity of pack-1/)).toMatch(/Minus: pack-1, minus goes to pack-2, plus\./)
    const apart = ['pack-1.minus fuse-2.in', 'fuse-2.out pack-2.plus']
    expect(clashes(wiring(`${PACKS} fuse-2`, [...apart, ...joins]))).toEqual([])
  })

  it('have no common return: to make their returns one would be a short circuit', () => {
    const leads = ['pack-1.plus pack-2.minus', 'pack-2.plus logic-1.plus', 'pack-1.minus logic-1.minus']
    expect(text(wiring('pack-1 pack-2 logic-1', [], leads), /^Common return/)).toBeUndefined()
    const [, ...apart] = leads
    const beside = text(wiring('pack-1 pack-2 logic-1', [], apart), /^Common return/)
    expect(beside).toMatch(/returns \(minus\) of pack-1 and pack-2 are one/)
    // nor where they may be in series through a part that says nothing; where their returns are one already they are not
    const linked = ['pack-1.plus block.a', 'block.b pack-2.minus', ...apart]
    expect(text(wiring('pack-1 pack-2 block logic-1', [], linked), /^Common return/)).toBeUndefined()
    const joined = wiring('pack-1 pack-2 block logic-1', [], [...linked, 'pack-1.minus pack-2.minus'])
    expect(text(joined, /^Common return/)).toEqual(beside)
    // of three packs in series it is no one's either, whatever regulator is behind them
    const three = ['pack-1.plus pack-2.minus', 'pack-2.plus pack-3.minus', 'pack-3.plus regulator.in']
    const behind = text(wiring('pack-3 pack-1 pack-2 regulator', [], three), /^Common return/)
    expect(behind).toMatch(/returns \(minus\) of pack-1 and regulator are one/)
  })

  it('have the lead between them on the plus of the lower and on the minus of the upper, whatever it says of itself', () => {
    for (const mark of ['>pack-2', '<pack-2', '>pack-1', '<pack-1']) {
      const leads = [`pack-1.plus pack-2.minus ${mark}`, 'pack-2.plus lamp-1.plus >pack-2']
      const report = wiring('pack-1 pack-2 lamp-1', [], [...leads, 'lamp-1.minus pack-1.minus <pack-1'])
      const of = (n: number) => text(report, new RegExp(`polarity of pack-${n}`))!
      if (mark.endsWith('1')) expect(of(1)).toMatch(/ Plus: the lead w1 goes to pack-2\. Minus: the lead w3 goes/)
      else expect(of(2)).toMatch(/ Minus: the lead w1 goes to pack-1\. Plus: the lead w2 goes/)
    }
  })

  it('are behind the fuse of the upper, whichever of them the lead between them says that it goes out from', () => {
    for (const of of ['pack-1', 'pack-2']) {
      const leads = [`pack-1.plus pack-2.minus >${of}`, `pack-2.plus fuse.in >${of}`, `fuse.out lamp-1.plus >${of}`]
      expect(lacks(wiring(PACKS, [], [...leads, `lamp-1.minus pack-1.minus <${of}`])).fuse).toEqual([])
    }
  })

  it('are turned off by a switch between them too, whatever else is there', () => {
    const ends = ['pack-2.plus fuse.in', 'fuse.out lamp-1.plus']
    const off = (...joins: string[]) => lacks(wiring(`${PACKS} fuse-2`, [...ends, ...joins]))
    const back = 'pack-1.minus lamp-1.minus'
    expect(off('pack-1.plus switch.in', 'switch.out pack-2.minus', back).switch).toEqual([])
    expect(off('pack-1.plus pack-2.minus @switch', back).switch).toEqual([])
    const apart = ['pack-1.plus fuse-2.in', 'fuse-2.out pack-2.minus']
    expect(off(...apart, 'pack-1.minus switch.in', 'switch.out lamp-1.minus')).toEqual(ALL)
    // not by one in a branch
    expect(off('pack-1.plus pack-2.minus', back, 'switch.in lamp-1.plus').switch).toEqual(['pack-1', 'pack-2'])
  })

  it('are one where their returns are joined, or the last leads back to the first', () => {
    const short = /^stops: .* that is a short circuit\.$/
    const shared = clashes(wiring(PACKS, ['pack-1.minus pack-2.plus', 'pack-1.minus pack-2.minus', ...joins]))
    expect(shared.some((c) => short.test(c))).toBe(true)
    const ring = clashes(wiring('pack-1 pack-2', ['pack-1.minus pack-2.plus', 'pack-2.minus pack-1.plus']))
    expect(ring).toHaveLength(2)
    for (const c of ring) expect(c).toMatch(short)
  })
})

describe('the first power of packs', () => {
  const IDS = 'pack-1 pack-2 fuse-1 fuse-2 switch-1 switch-2 lamp-1 lamp-2'
  const nets = (i: number) => [`pack-${i}.plus fuse-${i}.in`, `fuse-${i}.out switch-${i}.in`]

  it('turns on each switch with its pack', () => {
    const apart = (i: number) => [...nets(i), `switch-${i}.out lamp-${i}.plus`, `lamp-${i}.minus pack-${i}.minus`]
    expect(connects(IDS, [...apart(1), ...apart(2)])).toEqual([
      'Connect pack-1 alone and switch on switch-1',
      'Connect pack-2 as well and switch on switch-2',
    ])
  })

  it('that meet behind their switches turns on one at a time, and has a switch that they share off while each is connected', () => {
    const back = 'pack-1.minus pack-2.minus lamp-1.minus'
    const meet = [...nets(1), ...nets(2), 'switch-1.out switch-2.out switch-3.in', 'switch-3.out lamp-1.plus', back]
    expect(connects(`${IDS} switch-3`, meet)).toEqual([
      'Connect pack-1 alone and switch on switch-1 and switch-3',
      'With switch-1 and switch-3 off again, connect pack-2 as well and switch on switch-2 and switch-3',
    ])
    const poles = [
      'pack-1.plus double.in',
      'pack-2.plus double.in-2',
      'double.out lamp-1.plus',
      'double.out-2 lamp-2.plus',
    ]
    expect(connects('pack-1 pack-2 double lamp-1 lamp-2', [...poles, back])).toEqual([
      'Connect pack-1 alone and switch on double',
      'With double off again, connect pack-2 as well and switch on double',
    ])
  })

  it('that meet has one disconnected again where no switch keeps it from the next', () => {
    const back = 'pack-1.minus pack-2.minus lamp-1.minus'
    const one = ['pack-1.plus fuse-1.in', 'fuse-1.out switch-2.out lamp-1.plus', ...nets(2), back]
    expect(connects(IDS, one)).toEqual([
      'Connect pack-1 alone',
      'With pack-1 disconnected again, connect pack-2 and switch on switch-2',
    ])
    // each has a lamp before its switch, so that of neither everything is behind that
    const both = [
      ...nets(1),
      ...nets(2),
      'fuse-1.out lamp-1.plus',
      'fuse-2.out lamp-2.plus',
      'switch-1.out switch-2.out',
    ]
    expect(connects(IDS, [...both, back])).toEqual([
      'Connect pack-1 alone and switch on switch-1 and switch-2',
      'With pack-1 disconnected and switch-1 and switch-2 off again, connect pack-2 and switch on switch-1 and switch-2',
    ])
  })

  it('in series turns nothing on until the last of them is there', () => {
    const series = ['pack-1.plus pack-2.minus', 'pack-2.plus switch-1.in', 'switch-1.out lamp-1.plus']
    expect(connects('pack-2 pack-1 switch-1 lamp-1', [...series, 'pack-1.minus lamp-1.minus'])).toEqual([
      'Connect pack-2 alone',
      'Connect pack-1 as well and switch on switch-1',
    ])
  })
})

describe('volts of packs in series', () => {
  const IDS = 'pack-1 pack-2 pack-3 lamp-1'
  /** With nothing drawn, by supply; leads that say whose they are. */
  const volts = (...leads: string[]) =>
    Object.fromEntries(wiring(IDS, [], leads).power!.supplies.map((s) => [s.supply, s.volts]))
  const link = (of: string) => [`pack-1.plus pack-2.minus >${of}`, `pack-2.plus pack-3.minus >${of}`]
  const fed = (of: string, back = 'pack-1') => [`pack-3.plus lamp-1.plus >${of}`, `lamp-1.minus ${back}.minus <${of}`]

  it('are those of all that drive what flows in the leads, whichever of them these name', () => {
    expect(volts(...link('pack-3'), ...fed('pack-3'))).toEqual({ 'pack-1': 6, 'pack-2': 6, 'pack-3': 18 })
    expect(volts(...link('pack-1'), ...fed('pack-1'))).toEqual({ 'pack-1': 18, 'pack-2': 6, 'pack-3': 6 })
    expect(volts(...link('pack-2'), ...fed('pack-2'))).toEqual({ 'pack-1': 6, 'pack-2': 18, 'pack-3': 6 })
  })

  it('drive what flows in single leads that say no more than whose they are', () => {
    const leads = (of: string) => [
      `pack-1.plus pack-2.minus 1${of}`,
      `pack-2.plus lamp-1.plus 1${of}`,
      `lamp-1.minus pack-1.minus 1${of}`,
    ]
    for (const of of ['pack-1', 'pack-2']) {
      const { supplies } = wiring('pack-1 pack-2 lamp-1', [], leads(of)).power!
      const { volts, loads } = supplies.find((s) => s.supply === of)!.states.running
      expect([loads.length, Math.round(volts)]).toEqual([1, 12])
    }
  })

  it('are less where a lead leads back between them', () => {
    expect(volts(...link('pack-1'), ...fed('pack-3', 'pack-3'))['pack-3']).toBe(6)
    expect(volts(...link('pack-1'), ...fed('pack-3', 'pack-2'))['pack-3']).toBe(12)
    expect(volts(...link('pack-1'), 'pack-3.plus lamp-1.plus =pack-3')['pack-3']).toBe(6)
  })

  it('are expected where the last of them is connected, as far as they are known', () => {
    const nets = ['pack-1.plus pack-2.minus', 'pack-2.plus lamp-1.plus', 'pack-1.minus lamp-1.minus']
    const measured = wiring('pack-2 pack-1 lamp-1', nets).beforePower.steps.flatMap(
      (s) => s.text.match(/^Connect.*?about [\d.]+ V/) ?? [],
    )
    expect(measured).toEqual([
      'Connect pack-2 alone. Measure where its leads end: the project expects about 6 V',
      'Connect pack-1 as well. Measure across pack-2 and pack-1 in series, where their leads end: the project expects about 12 V',
    ])
    // two that stand on one are no three in series
    const apart = ['pack-1.plus pack-2.minus pack-3.minus', 'pack-3.plus lamp-2.plus', ...nets.slice(1)]
    expect(text(wiring('pack-1 pack-2 pack-3 lamp-1 lamp-2', apart), /^Connect pack-3/)).toMatch(
      /Measure across pack-1 and pack-2 in series, .* about 12 V\. Measure across pack-1 and pack-3 in series, .* about 12 V\./,
    )
    const mute = nets.map((net) => net.replaceAll('pack-2', 'mute'))
    expect(text(wiring('pack-1 mute lamp-1', mute), /^Connect mute/)).toMatch(
      /: their sheets say how many volts to expect\./,
    )
  })
})

describe('the first power of regulators', () => {
  it('turns on what is behind one once that is measured', () => {
    const nets = [
      'pack.plus switch-1.in',
      'switch-1.out regulator.in',
      'regulator.out switch-2.in',
      'switch-2.out chip-1.plus',
    ]
    expect(
      turns('pack switch-1 switch-2 regulator chip-1', [...nets, 'pack.minus regulator.minus chip-1.minus']),
    ).toEqual([
      'Connect pack alone and switch on switch-1. Wait a minute: nothing gets warm, smells or hums.',
      'Measure at the output of regulator. Only then connect what it feeds and switch on switch-2.',
    ])
  })

  it('that meet turns on one at a time, and none while a pack gives to its output', () => {
    const back = 'pack-1.minus regulator-1.minus chip-1.minus'
    const fed = ['pack-1.plus switch-3.in', 'switch-3.out regulator-1.in regulator-2.in', back]
    const two = [1, 2].map((i) => `regulator-${i}.out switch-${i}.in`)
    const ids = 'pack-1 switch-1 switch-2 switch-3 regulator-1 regulator-2 chip-1'
    expect(turns(ids, [...fed, ...two, 'switch-1.out switch-2.out chip-1.plus']).slice(1)).toEqual([
      'Measure at the output of regulator-1. Only then connect what it feeds and switch on switch-1.',
      'With switch-1 off again, measure at the output of regulator-2. Only then connect what it feeds and switch on switch-2.',
    ])
    // nothing but their pack turns the first off
    expect(turns(ids, [...fed, two[1]!, 'regulator-1.out switch-2.out chip-1.plus']).at(-1)).toBe(
      'Measure at the output of regulator-2. Only then connect what it feeds.',
    )
    const cells = 'cell.plus switch-2.in'
    const behind = ['regulator-1.out switch-1.in', 'switch-1.out switch-2.out chip-1.plus']
    expect(turns(`${ids} cell`, [...fed, cells, ...behind]).slice(1, 3)).toEqual([
      'Connect cell as well and switch on switch-2. Wait a minute: nothing gets warm, smells or hums.',
      'With switch-2 off again, measure at the output of regulator-1. Only then connect what it feeds and switch on switch-1.',
    ])
    // no switch behind it: its pack is off meanwhile
    expect(turns(`${ids} cell`, [...fed, cells, 'regulator-1.out switch-2.out chip-1.plus']).slice(1, 3)).toEqual([
      'With switch-3 off again, connect cell as well and switch on switch-2. Wait a minute: nothing gets warm, smells or hums.',
      'With switch-2 off again, switch on switch-3 and measure at the output of regulator-1. Only then connect what it feeds.',
    ])
    // nor before it: its pack is disconnected meanwhile, and connected again to measure it; whichever of the packs comes first
    const bare = ['pack.plus regulator.in', 'regulator.out switch.out chip-1.plus', 'cell.plus switch.in']
    const returns = 'pack.minus cell.minus regulator.minus chip-1.minus'
    expect(turns('pack cell switch regulator chip-1', [...bare, returns]).slice(1)).toEqual([
      'With pack disconnected again, connect cell and switch on switch. Wait a minute: nothing gets warm, smells or hums.',
      'With switch off again, connect pack again and measure at the output of regulator. Only then connect what it feeds.',
    ])
    expect(turns('cell pack switch regulator chip-1', [...bare, returns])[1]).toMatch(
      /^With switch off again, connect pack as well/,
    )
    // a pack that feeds it and gives to where it does stays on, and it is not joined to that
    const past = [
      'pack.plus switch-1.in regulator.in',
      'regulator.out switch-2.in',
      'switch-1.out switch-2.out chip-1.plus',
    ]
    expect(
      turns('pack switch-1 switch-2 regulator chip-1', [...past, 'pack.minus regulator.minus chip-1.minus']),
    ).toEqual([
      'Connect pack alone and switch on switch-1. Wait a minute: nothing gets warm, smells or hums.',
      'Measure at the output of regulator. Only then connect what it feeds.',
    ])
  })

  it('that meet behind one that feeds both do not turn that off', () => {
    const fed = ['pack.plus regulator-1.in', 'regulator-1.out switch.in', 'switch.out regulator-2.in regulator-3.in']
    const returns = ['pack', 'regulator-1', 'regulator-2', 'regulator-3', 'chip-1'].map((id) => `${id}.minus`).join(' ')
    const ids = 'pack switch regulator-1 regulator-2 regulator-3 chip-1'
    expect(turns(ids, [...fed, 'regulator-2.out regulator-3.out chip-1.plus', returns]).slice(1)).toEqual([
      'Measure at the output of regulator-1. Only then connect what it feeds and switch on switch.',
      'Measure at the output of regulator-2. Only then connect what it feeds.',
      'Measure at the output of regulator-3. Only then connect what it feeds.',
    ])
  })

  it('that two packs could feed are measured with one of them', () => {
    const nets = [
      'pack.plus switch-2.out',
      'pack-2.plus regulator-2.in',
      'regulator-2.out switch-1.out switch-2.in',
      'regulator-1.in switch-1.in',
    ]
    const ids = 'pack pack-2 switch-1 switch-2 regulator-1 regulator-2'
    const returns = 'pack.minus pack-2.minus regulator-1.minus regulator-2.minus'
    expect(turns(ids, [...nets, returns]).slice(1)).toEqual([
      'With switch-1 and switch-2 off again, connect pack-2 as well. Wait a minute: nothing gets warm, smells or hums.',
      'Measure at the output of regulator-2. Only then connect what it feeds.',
      'With pack-2 disconnected again, switch on switch-1 and switch-2 and measure at the output of regulator-1. Only then connect what it feeds.',
    ])
  })

  it('turns on a switch with poles for two once both are measured, unless one of them feeds the other', () => {
    const fed = [
      'pack.plus regulator-1.in regulator-2.in',
      'pack.minus regulator-1.minus regulator-2.minus chip-1.minus',
    ]
    const poles = ['regulator-1.out double.in', 'regulator-2.out double.in-2', 'double.out chip-1.plus']
    const ids = 'pack double regulator-1 regulator-2 chip-1 chip-2'
    expect(turns(ids, [...fed, ...poles, 'double.out-2 chip-2.plus']).slice(1)).toEqual([
      'Measure at the output of regulator-1. Only then connect what it feeds.',
      'Measure at the output of regulator-2. Only then connect what it feeds and switch on double.',
    ])
    const chain = ['regulator-1.out double.in', 'double.out regulator-2.in', 'regulator-2.out double.in-2']
    expect(
      turns(ids, ['pack.plus regulator-1.in', ...fed.slice(1), ...chain, 'double.out-2 chip-1.plus']).slice(1),
    ).toEqual([
      'Measure at the output of regulator-1. Only then connect what it feeds and switch on double.',
      'Measure at the output of regulator-2. Only then connect what it feeds.',
    ])
  })

  it('measures one that feeds another before it, in whatever order they are listed', () => {
    const nets = ['pack.plus regulator-2.in', 'regulator-2.out switch.in', 'switch.out regulator-1.in']
    const measured = (ids: string, more = 'pack.minus regulator-2.minus') =>
      wiring(ids, [...nets, more]).beforePower.steps.flatMap(
        (s) => s.text.match(/(?<=^Measure at the output of )[^:]*/) ?? [],
      )
    expect(measured('pack switch regulator-1 regulator-2')).toEqual(['regulator-2', 'regulator-1'])
    expect(measured('pack switch regulator-2 regulator-1')).toEqual(['regulator-2', 'regulator-1'])
    // round a ring as listed
    expect(measured('pack switch regulator-1 regulator-2', 'regulator-1.out pack.plus')).toEqual([
      'regulator-1',
      'regulator-2',
    ])
    // by leads as well, where their terminals say nothing of themselves
    const leads = ['pack.plus dim-2.a =pack', 'dim-2.b dim-1.a =dim-2', 'dim-1.b lamp-1.plus =dim-1']
    const byLeads = wiring('pack dim-1 dim-2 lamp-1', [], leads).beforePower.steps.flatMap(
      (s) => s.text.match(/(?<=^Measure at the output of )[^:]*/) ?? [],
    )
    expect(byLeads).toEqual(['dim-2', 'dim-1'])
  })

  it('expects the volts of the output that is in use', () => {
    const measured = (...ends: string[]) => {
      const nets = [
        'pack.plus both.in',
        'pack.minus both.minus',
        ...ends.map((out, i) => `both.${out} lamp-${i + 1}.plus`),
      ]
      return text(wiring('pack both lamp-1 lamp-2', nets), /^Measure at/)!.match(/expects about ([\d.]+) V/)?.[1]
    }
    expect([measured('five'), measured('three'), measured('three', 'five')]).toEqual(['5', '3.3', '5'])
  })

  it('tells of a pack that makes its own volts once', () => {
    const { steps } = wiring('bank lamp-1', ['bank.plus lamp-1.plus', 'bank.minus lamp-1.minus']).beforePower
    expect(steps.filter((s) => /polarity/.test(s.text))).toHaveLength(1)
    expect(steps.find((s) => /^No short/.test(s.text))!.text).toMatch(/that go to bank\.$/)
    expect(steps.some((s) => /^Measure at the output/.test(s.text))).toBe(false)
    expect(steps.find((s) => /^Connect/.test(s.text))!.text).toMatch(/about 5 V/)
  })

  it('keeps a pack from where a regulator gives that it feeds: switches that join them stay off, and stop the job', () => {
    const ids = 'pack switch-1 switch-2 regulator lamp-1'
    const back = 'pack.minus regulator.minus lamp-1.minus'
    const past = ['pack.plus regulator.in switch-1.in', 'switch-1.out regulator.out lamp-1.plus', back]
    const off = [
      'Connect pack alone. Wait a minute: nothing gets warm, smells or hums.',
      'Measure at the output of regulator. Only then connect what it feeds.',
    ]
    expect(turns(ids, past)).toEqual(off)
    // the one that feeds the regulator goes on, wherever it is listed
    const both = ['pack.plus switch-2.in', 'switch-2.out regulator.in switch-1.in', ...past.slice(1)]
    const fed = [off[0]!.replace('alone', 'alone and switch on switch-2'), off[1]]
    expect(turns(ids, both)).toEqual(fed)
    expect(turns('pack switch-2 switch-1 regulator lamp-1', both)).toEqual(fed)
    // nor is it led there to feed it again
    const cell = ['cell.plus switch-3.in', 'switch-3.out regulator.out', 'cell.minus lamp-1.minus']
    expect(turns(`${ids} cell switch-3`, [...both, ...cell]).slice(1)).toEqual([
      'With switch-2 off again, connect cell as well and switch on switch-3. Wait a minute: nothing gets warm, smells or hums.',
      'With switch-3 off again, switch on switch-2 and measure at the output of regulator. Only then connect what it feeds.',
    ])
    for (const nets of [past, both])
      expect(clashes(wiring(ids, nets))).toEqual([
        expect.stringMatching(/^stops: .* at pack, plus, .* at regulator, out, /),
      ])
  })
})
