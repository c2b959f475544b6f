/** Results leave whole or not at all: files are written beside their place and moved there in one step. */
import { randomBytes } from 'node:crypto'
import {
  accessSync,
  chmodSync,
  constants,
  lstatSync,
  readlinkSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import { snippet } from '../../footprints/problems.ts'
import { BadInput } from './bad-input.ts'

/** Where `file` really ends up, links followed, even where the last one points at nothing yet. */
function target(file: string): string {
  let path = resolve(file)
  // Pipes under /dev have links that lead to no path.
  const there = statSync(path, { throwIfNoEntry: false })
  if (there && !there.isFile()) return path
  for (let hops = 0; hops < 40 && lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink(); hops++) {
    path = resolve(dirname(path), readlinkSync(path))
  }
  return path
}

/** Throws BadInput where there is no folder for `file`. */
export function checkFolder(option: string, file: string, path = resolve(file)): void {
  const folder = statSync(dirname(path), { throwIfNoEntry: false })
  if (!folder?.isDirectory()) {
    throw new BadInput([`${option}: found ${snippet(file)}, expected a file in a folder that exists`])
  }
}

/** Throws BadInput where `file` could not be written, or is one of the files that were read. Nothing is written. */
export function checkWritable(option: string, file: string, inputs: readonly string[]): void {
  const refuse = (why: string): never => {
    throw new BadInput([`${option}: found ${snippet(file)}, ${why}`])
  }
  if (file === '') refuse('expected the name of a file')
  const path = target(file)
  const there = statSync(path, { throwIfNoEntry: false })
  if (there?.isDirectory()) refuse('which is a folder, expected the name of a file')
  checkFolder(option, file, path)
  const real = (p: string): string | undefined => {
    try {
      return realpathSync(p)
    } catch {
      return undefined
    }
  }
  const own = real(path)
  if (own !== undefined && inputs.some((input) => input !== '-' && real(input) === own)) {
    refuse('which is a file that is read, expected another one')
  }
  try {
    accessSync(there && !there.isFile() ? path : dirname(path), constants.W_OK)
    if (there?.isFile()) accessSync(path, constants.W_OK)
  } catch {
    refuse('which may not be written, expected a place that may')
  }
}

/**
 * Writes all files or none, as far as the system has it: devices and pipes are written to at once, and where one of the moves at the
 * end fails, those before it stay. Throws BadInput, with the system's reason, where anything fails.
 */
export function writeWhole(files: readonly { readonly file: string; readonly text: string | Uint8Array }[]): void {
  const waiting: { from: string; to: string }[] = []
  try {
    for (const { file, text } of files) {
      const to = target(file)
      const there = statSync(to, { throwIfNoEntry: false })
      // A device or a pipe cannot be replaced, only written to.
      if (there && !there.isFile()) {
        writeFileSync(to, text)
        continue
      }
      const from = join(dirname(to), `.${basename(to).slice(0, 200)}.${randomBytes(6).toString('hex')}`)
      waiting.push({ from, to })
      writeFileSync(from, text, { flag: 'wx' })
      if (there) chmodSync(from, there.mode)
    }
    for (const { from, to } of waiting) renameSync(from, to)
  } catch (error) {
    for (const { from } of waiting) rmSync(from, { force: true })
    throw new BadInput([`cannot write ${files.map((f) => f.file).join(', ')}: ${reason(error)}`])
  }
}

/** `no such file or directory` for `ENOENT: no such file or directory, open 'x'`. */
export function reason(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error)
  return /^[A-Z]+: ([^,]+)/.exec(text)?.[1] ?? text
}
