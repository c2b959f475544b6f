/** What-ifs on a grid too fine to be searched whole: answered on a coarser one, within memory, and never called proven. */
import { describe, expect, it } from 'vitest'
import { different, oneMore, um } from '../../solver/index.ts'
import { deck, item, part, problem, rect } from './check-kit.ts'

describe('a what-if on a grid of a micrometre', () => {
  const brain = part(60, 40, 5, { mount: { kind: 'adhesive' } })
  const item1 = item('a', brain, { decks: [0], turns: [0], place: [{ kind: 'inside', shape: rect(0, 0, 70, 50) }] })
  const p = problem([item1], { grid: um(1), decks: [deck(rect(0, 0, 400, 300))], objective: [] })
  it('is answered, and refutes nothing', () => {
    const over = problem([{ ...item1, place: [] }], { ...p, decks: [deck(rect(0, 0, 50, 1000))] })
    expect(oneMore(over, 'a', { steps: 400 }).status).toBe('unknown')
    const others = different(p, 1, { steps: 400 })
    expect(others).toMatchObject({ status: 'found', best: false, exhausted: false })
  })
})
