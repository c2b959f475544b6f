/** The README as a first user follows it: its file is written, its commands are run, what they print is compared. */
import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { cautions } from '../../src/export/cautions.ts'
import { bin, folder, root } from './cli.ts'

const readme = readFileSync(join(root, 'README.md'), 'utf8')
const here = folder()
afterAll(here.remove)

interface Block {
  readonly info: string
  readonly text: string
}

const blocks: Block[] = [...readme.matchAll(/^ *```(.*)\n([\s\S]*?)^ *```$/gm)].map((m) => ({
  info: m[1]!.trim(),
  text: m[2]!.replace(/^ {3}/gm, ''),
}))

/** Times differ from run to run, and a screen does not show that lines of CSV end in CRLF. */
const steady = (text: string): string =>
  text
    .replace(/"seconds": [\d.]+/g, '"seconds": 0')
    .replaceAll('\r\n', '\n')
    .trimEnd()

/** `$ command` lines with what each prints. */
function steps(text: string): { command: string; prints: string }[] {
  return text
    .split(/^\$ /m)
    .slice(1)
    .map((part) => ({ command: part.split('\n')[0]!, prints: part.slice(part.indexOf('\n') + 1) }))
}

function shell(command: string): string {
  const typed = command.replace('npm run -s deckwright --', `"${process.execPath}" "${bin}"`)
  return execFileSync('sh', ['-c', typed], { cwd: here.path, encoding: 'utf8' })
}

describe('the README', () => {
  it('opens with the job, and its first block is the file or a command that this test runs', () => {
    expect(blocks.length).toBeGreaterThan(3)
    expect(readme.indexOf('npm ci')).toBeGreaterThan(readme.indexOf('\n\n'))
  })

  it('shows what its commands print', () => {
    let ran = 0
    for (const block of blocks) {
      const file = /^json (\S+\.json)$/.exec(block.info)?.[1]
      if (file) here.put(file, block.text)
      if (block.info !== 'console') continue
      for (const { command, prints } of steps(block.text)) {
        if (/^npm (ci|start)\b/.test(command)) continue
        expect(steady(shell(command)), command).toBe(steady(prints))
        ran++
      }
    }
    expect(ran).toBeGreaterThanOrEqual(4)
    for (const made of ['deck.svg', 'print.pdf', 'screws.csv']) expect(existsSync(join(here.path, made))).toBe(true)
  })

  it('gives every caution before or where the template is first made', () => {
    const first = readme.indexOf('export ')
    for (const caution of cautions) {
      expect(readme).toContain(caution)
      expect(Math.abs(readme.indexOf(caution) - first)).toBeLessThan(2500)
    }
  })

  it('names files and folders that exist', () => {
    for (const m of readme.matchAll(/\]\((?!https?:)([^)#]+)\)/g))
      expect(existsSync(join(root, m[1]!)), m[1]!).toBe(true)
  })
})
