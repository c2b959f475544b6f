import { describe, expect, it } from 'vitest'
import { picturesIn } from '../../src/store/pictures.ts'

describe('pictures without a storage', () => {
  it('are there until the page is closed, and say why no longer', async () => {
    const pictures = picturesIn(undefined)
    const blob = new Blob(['x'])
    expect(await pictures.get('a')).toEqual({ why: 'this browser has no storage for it' })
    expect(await pictures.keep('a', blob)).toEqual({ kept: false, why: 'this browser has no storage for it' })
    expect(await pictures.get('a')).toEqual({ picture: blob })
    expect(await picturesIn(undefined).get('a')).toEqual({ why: 'this browser has no storage for it' })
  })

  it('say what a storage that fails says', async () => {
    const request: { error: Error; onerror?: () => void } = { error: new Error('no room') }
    const factory = {
      open: () => {
        queueMicrotask(() => request.onerror?.())
        return request
      },
    } as unknown as IDBFactory
    expect(await picturesIn(factory).keep('a', new Blob(['x']))).toEqual({ kept: false, why: 'no room' })
    expect(await picturesIn(factory).get('a')).toEqual({ why: 'no room' })
  })
})
