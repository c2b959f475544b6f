/** What an edit of one variant leaves of the others: their problems, layouts and answers. */
import { describe, expect, it } from 'vitest'
import type { Project } from '../../src/model/index.ts'
import { shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { solvedSample } from './store-sample.ts'

type Sample = Awaited<ReturnType<typeof solvedSample>>
const docOf = ({ store }: Sample) => store.getState().history.doc
const withVariants = (project: Project, variants: NonNullable<Project['variants']>): Project => ({
  ...project,
  variants,
})

describe('a change of some variants', () => {
  it('leaves a variant that asks the same with its problem and asks nothing again', async () => {
    const sample = await solvedSample()
    const { project, sheets } = docOf(sample)
    const asked = sample.asked.length
    const [whole, bare] = project.variants!
    expect(sample.actions.change(withVariants(project, [whole!, { ...bare!, name: 'with nothing on it' }]))).toEqual([])
    expect(docOf(sample).sheets.map((s) => s.problem)).toEqual(sheets.map((s) => s.problem))
    expect(docOf(sample).sheets[0]).toBe(sheets[0])
    expect(docOf(sample).sheets[1]!.name).toBe('with nothing on it')
    expect(sample.asked.length).toBe(asked)
    sample.actions.undo()
    expect(docOf(sample).project).toBe(project)
  })

  it('asks again for the one that differs, and for it alone', async () => {
    const sample = await solvedSample()
    const { project, sheets } = docOf(sample)
    const asked = sample.asked.length
    const [whole, bare] = project.variants!
    sample.actions.change(withVariants(project, [whole!, { ...bare!, omit: ['board', 'peg', 'two'] }]), 'anew')
    expect(docOf(sample).sheets[0]).toBe(sheets[0])
    expect(sample.asked.slice(asked).map((a) => a.problem.variant)).toEqual(['bare'])
  })

  it('begins a copy with the layout, the holds and the answer of what it was copied from', async () => {
    const sample = await solvedSample()
    sample.actions.hold('one')
    const { project } = docOf(sample)
    const asked = sample.asked.length
    const before = viewOf(sample.store.getState(), 0)!
    sample.actions.change(withVariants(project, [...project.variants!, { id: 'copy' }]))
    expect(docOf(sample).sheets.map((s) => s.variant)).toEqual(['whole', 'bare', 'copy'])
    const copy = viewOf(sample.store.getState(), 2)!
    expect(copy.sheet.holds).toEqual(['one'])
    expect(copy.problem.variant).toBe('copy')
    expect(copy.verdict).toBe(before.verdict)
    expect(shown(sample.store.getState(), copy.sheet)).toEqual(before.placements)
    // What is asked of the copy is at most its own hold, never the whole again.
    expect(sample.asked.slice(asked).every((a) => a.options.pins?.length === 1)).toBe(true)
  })

  it('renamed as a whole, keeps what is known, for names ask nothing', async () => {
    const sample = await solvedSample()
    const asked = sample.asked.length
    sample.actions.change({ ...docOf(sample).project, name: 'Fern minder' })
    expect(docOf(sample).sheets[0]!.problem.name).toBe('Fern minder')
    expect(sample.asked.length).toBe(asked)
    expect(viewOf(sample.store.getState(), 0)!.verdict).toBe('Best possible.')
  })

  it('keeps the variant that is on the stage there when one before it goes', async () => {
    const sample = await solvedSample()
    sample.actions.choose(1)
    const { project } = docOf(sample)
    sample.actions.change(withVariants(project, [project.variants![1]!]))
    expect(sample.store.getState().active).toBe(0)
    expect(docOf(sample).sheets[0]!.variant).toBe('bare')
  })
})
