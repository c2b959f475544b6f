/** How the parts of a report call what they speak of. */
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { inspect } from '../../src/inspect/index.ts'
import { textOf } from '../../src/store/report-blocks.ts'
import { partBlocks } from '../../src/store/report-parts.ts'
import { checkSteps } from '../../src/store/report-robot.ts'
import { robot } from '../inspect/kit.ts'

const FIRST = { pan: 0, tilt: 0, slope: 0, slopeToward: 'front' } as const
const library = loadLibrary()

describe('the parts of the report call', () => {
  it('copies as people read them, and a deck by its name, which may have the sign of copies', () => {
    const named = robot((p) => {
      p.decks[1].name = 'Deck#1'
      p.items.push({ id: 'spare', footprint: 'eye', count: 2, required: false })
    })
    const { wires } = named.problem
    const whole = inspect(named.project, library, named.problem, named.placements)
    const of = {
      ...whole,
      leads: {
        ...whole.leads!,
        bundles: [{ wires: wires.slice(0, 2).map((w) => w.id), together: 30, deck: 'top' }],
        blocked: [{ wire: wires[2]!.id, by: ['spare#2', 'top'] }],
      },
    }
    const wiring = textOf('wires', partBlocks('wires', of, named, FIRST, new Set()))
    expect(wiring).toMatch(/spare 2 and Deck#1/)
    expect(wiring).toMatch(/30\.0 mm .*Deck#1/)
    const service = partBlocks('service', of, named, FIRST, new Set())
    expect(textOf('service', service)).toContain('Deck#1')
    // what a row speaks of goes on by ids
    expect(JSON.stringify(service)).not.toMatch(/"items":[^\]]*Deck#1/)
    const beforePower = { ...of.beforePower, steps: [{ text: 'Hold spare#2 under Deck#1', items: [] }] }
    const [step] = checkSteps({ ...of, beforePower }, named.problem)
    expect(step!.text).toBe('Hold spare 2 under Deck#1')
    const list = partBlocks('first', { ...of, beforePower }, named, FIRST, new Set([step!.text]))
    expect(textOf('list', list)).toContain('[x] 1. Hold spare 2 under Deck#1')
  })

  it('a deck that is in a head’s view alike, wherever the head looks', () => {
    const before = robot((p) => {
      Object.assign(p.decks[1], { name: 'lid', z: 76, outline: { rect: [0, 130, 160, 60] } })
    })
    const report = inspect(before.project, library, before.problem, before.placements)
    const head = textOf('head', partBlocks('head', report, before, FIRST, new Set()))
    expect(head.match(/In view: [\w ]+\w/g)).toEqual(['In view: deck lid', 'In view: deck lid'])
  })
})
