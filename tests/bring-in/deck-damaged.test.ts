/**
 * Damaged drawings: for each a clear refusal, or a deck with a report in which nothing is lost. What is said stands beside the
 * file, in its .out, read and judged by hand.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { bringInDeck } from '../../src/bring-in/index.ts'
import { formatProblem } from '../../src/model/index.ts'

const folder = join(import.meta.dirname, '../fixtures/bring-in/damaged')
const files = readdirSync(folder).filter((f) => /\.(dxf|svg)$/.test(f))

function said(file: string): string {
  const got = bringInDeck(readFileSync(join(folder, file)), file)
  const unused = got.ok ? got.report.unused : got.unused
  const left = unused.map((u) => `unused: ${u.what} (${u.where}): ${u.why}`)
  if (!got.ok) return [...got.problems.map(formatProblem), ...left, ''].join('\n')
  const decks = got.decks.map((d) => `deck ${JSON.stringify(d)}`)
  return [...decks, ...left, ''].join('\n')
}

describe('damaged drawings', () => {
  it('are at least forty', () => expect(files.length).toBeGreaterThanOrEqual(40))

  for (const file of files) {
    it(`${file}: is answered as judged`, () => {
      const out = join(folder, `${file}.out`)
      // To write new ones, remove the old: they are to be read before they are committed.
      if (!existsSync(out) && process.env.DECKWRIGHT_WRITE === '1') writeFileSync(out, said(file))
      const wanted = readFileSync(out, 'utf8')
      const spent = (): number => {
        const start = process.cpuUsage().user
        expect(said(file)).toBe(wanted)
        return (process.cpuUsage().user - start) / 1000
      }
      // whatever else the process does counts too, so once is no fault
      const first = spent()
      expect(first < 5000 ? first : spent()).toBeLessThan(5000)
    })
  }
})
