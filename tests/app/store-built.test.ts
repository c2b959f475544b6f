/** What is marked as built: it stays, with the board under it, in file and page, until it is unmarked. */
import { describe, expect, it } from 'vitest'
import { createItemKeys } from '../../src/plan/keys.ts'
import { FIRST_KEYS } from '../../src/store/key-map.ts'
import { page } from './store-page.ts'
import { files } from './store-sample.ts'

describe('what is built', () => {
  it('neither moves nor is freed with the others, and says so in the file', async () => {
    const p = await page()
    p.actions.hold('two')
    p.actions.markBuilt(['one', 'nobody'])
    expect(p.steps()).toBe(2)
    expect(p.sheet().built).toEqual(['one'])
    await p.settled()
    const there = p.layout().find((q) => q.item === 0)!
    p.actions.lift('one', 'pointer')
    expect(p.store.getState().carry).toBeUndefined()
    p.actions.turn('one')
    p.actions.free('one')
    p.actions.freeAll()
    expect(p.sheet().holds).toEqual(['one'])
    p.actions.freeAll()
    expect(p.steps()).toBe(3)
    p.actions.rearrange()
    await p.settled()
    expect(p.layout().find((q) => q.item === 0)).toEqual(there)
    const saved = p.actions.save().text
    const again = files.open(saved, 'moss.json')
    if (again.kind !== 'opened') throw new Error('not read')
    expect(again.doc.sheets[0]).toMatchObject({ built: ['one'], holds: ['one'] })
    p.actions.unmarkBuilt('one')
    expect(p.sheet()).toMatchObject({ holds: ['one'], built: [] })
    expect(JSON.parse(p.actions.save().text).page.built).toBeUndefined()
    p.end()
  })

  it('has the board under it built with it, which would take it along', async () => {
    const p = await page()
    p.actions.markBuilt(['peg'])
    expect(p.sheet().built).toEqual(['peg', 'board'])
    expect(p.sheet().holds).toEqual(['peg', 'board'])
    expect(p.steps()).toBe(1)
    await p.settled()
    p.actions.lift('board', 'pointer')
    expect(p.store.getState().carry).toBeUndefined()
    // A file that names the one alone means the other too.
    const saved = JSON.parse(p.actions.save().text)
    saved.page.built = { whole: ['peg'] }
    const again = files.open(JSON.stringify(saved), 'moss.json')
    if (again.kind !== 'opened') throw new Error('not read')
    expect(again.doc.sheets[0]!.built).toEqual(['peg', 'board'])
    p.actions.unmarkBuilt('board')
    expect(p.sheet().built).toEqual([])
    expect(p.sheet().holds).toEqual(['peg', 'board'])
    p.actions.undo()
    p.actions.undo()
    expect(p.sheet().built).toBeUndefined()
    p.end()
  })

  it('does not answer to the keys, and says why', async () => {
    const p = await page()
    const said: string[] = []
    const keys = createItemKeys(
      p.store.getState,
      p.actions,
      () => FIRST_KEYS,
      undefined,
      (text) => said.push(text),
    )
    const press = (key: string, shiftKey = false) =>
      keys.press('one', { key, shiftKey, ctrlKey: false, metaKey: false, altKey: false, preventDefault: () => {} })
    p.actions.markBuilt(['one'])
    for (const key of ['ArrowRight', ' ']) press(key)
    press('ArrowRight', true)
    expect(said.map((text) => text.split(',')[0])).toEqual([
      'one was not moved',
      'one was not freed',
      'one was not moved',
    ])
    expect(p.steps()).toBe(1)
    expect(p.store.getState().selected).toBe('one')
    keys.leave()
    p.end()
  })
})
