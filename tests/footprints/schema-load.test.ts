import { expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'

it('loads every part of the library, each id once, and only once', () => {
  const library = loadLibrary()
  const files = Object.keys(import.meta.glob('../../footprints/*/*.json'))
  expect(library.size).toBe(files.length)
  expect(loadLibrary()).toBe(library)
})
