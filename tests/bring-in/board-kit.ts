import { readFileSync } from 'node:fs'
import type { BoardFile, BoardOptions, BoardResult } from '../../src/bring-in/board.ts'
import { bringInBoard } from '../../src/bring-in/board.ts'

const folder = new URL('../fixtures/bring-in/boards/', import.meta.url)
export const fixture = (name: string): BoardFile => ({ name, text: readFileSync(new URL(name, folder), 'utf8') })
export const bring = (files: readonly (string | BoardFile)[], options: Partial<BoardOptions> = {}): BoardResult =>
  bringInBoard(
    files.map((f) => (typeof f === 'string' ? fixture(f) : f)),
    { id: 'brought', height: 12, ...options },
  )
/** The footprint and its report, or an error with what was said. */
export function good(result: BoardResult) {
  if (!result.ok) throw new Error(JSON.stringify(result.problems, null, 1))
  return result
}
export const holesOf = (result: BoardResult) => {
  const { mount } = good(result).footprint
  if (mount.kind !== 'screw') throw new Error(mount.kind)
  return (mount.holes ?? []).map((h) => [...h.at, h.diameter])
}
