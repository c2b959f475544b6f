import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { readLibrary } from './library.ts'

describe('the library through its reader', () => {
  it('opens every file, keeps every field, and knows each of them', () => {
    const loaded = loadLibrary()
    const files = readLibrary()
    expect([...loaded.keys()].sort()).toEqual(files.map((f) => f.part.id).sort())
    for (const { part } of files) expect(loaded.get(part.id)).toMatchObject({ id: part.id, kind: part.kind })
  })
})
