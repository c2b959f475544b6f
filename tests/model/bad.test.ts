/**
 * Bad files, each beside the exact text that a person sees: all problems at once, then the warnings. The texts were read by
 * eye against contract §1–§6 when they were written. UPDATE_BAD=1 writes them anew.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { FootprintFile } from '../../footprints/schema.ts'
import { formatProblem, readLayout, readProject } from '../../src/model/index.ts'

const folder = new URL('../fixtures/bad/', import.meta.url)
/** A library of three, so that the texts do not change with ours. */
const part = (id: string): FootprintFile => ({
  id,
  body: { width: 10, depth: 10, height: 5 },
  mount: { kind: 'adhesive' },
  terminals: [{ id: '1', at: [1, 1] }],
})
const library = new Map(['controller-four-hole', 'header-1x4', 'switch'].map((id) => [id, part(id)]))

const names = readdirSync(folder)
  .filter((f) => f.endsWith('.json'))
  .map((f) => f.slice(0, -5))

describe('bad files', () => {
  it('are many', () => expect(names.length).toBeGreaterThanOrEqual(40))

  it.each(names)('%s', (name) => {
    const bytes = new Uint8Array(readFileSync(new URL(`${name}.json`, folder)))
    const layout = name.startsWith('layout-')
    const read = layout ? readLayout(bytes, `${name}.json`) : readProject(bytes, `${name}.json`, library)
    expect(read.ok).toBe(false)
    const problems = read.ok ? [] : read.problems.map(formatProblem)
    const said = `${[...problems, ...read.warnings.map((w) => `warning: ${formatProblem(w)}`)].join('\n')}\n`
    const out = new URL(`${name}.out`, folder)
    if (process.env.UPDATE_BAD === '1' || !existsSync(out)) writeFileSync(out, said)
    expect(said).toBe(readFileSync(out, 'utf8'))
  })
})
