/** A caliper's rows are kept in the browser as parts are that were begun, for each work its own. */
import { describe, expect, it } from 'vitest'
import { withHole } from '../../src/panels/deck-caliper-form.ts'
import { CALIPER_KEY, type CaliperForm, createCaliperRows, emptyForm } from '../../src/store/caliper-rows.ts'

function storage(): Pick<Storage, 'getItem' | 'setItem'> {
  const all = new Map<string, string>()
  return { getItem: (key) => all.get(key) ?? null, setItem: (key, value) => void all.set(key, value) }
}

const typed = (reading: string): CaliperForm => {
  const form = withHole(emptyForm)
  return { ...form, measures: form.measures.map((m, k) => (k === 0 ? { ...m, readings: reading } : m)) }
}
const mine = { work: 'a', opened: 1 }

describe('rows typed off a caliper', () => {
  it('are there again after a reload, with every edit, and say since when', () => {
    const shelf = storage()
    const rows = createCaliperRows(shelf, () => 7)
    expect(rows.of(mine)).toEqual({ form: emptyForm, back: undefined, kept: true, aside: undefined })
    rows.put(mine, typed('1'))
    rows.put(mine, typed('140,02; 139.98'))
    expect(rows.of(mine)).toMatchObject({ form: typed('140,02; 139.98'), back: undefined, kept: true })
    // Another page: it counts its documents from the beginning.
    const again = createCaliperRows(shelf)
    expect(again.of({ work: 'a', opened: 4 })).toMatchObject({ form: typed('140,02; 139.98'), back: 7 })
  })

  it('belong to their work, and stay when it becomes a copy of its own', () => {
    const shelf = storage()
    const rows = createCaliperRows(shelf)
    rows.put(mine, typed('1'))
    expect(rows.of({ work: 'b', opened: 2 }).form).toEqual(emptyForm)
    rows.put({ work: 'b', opened: 2 }, typed('2'))
    expect(rows.of({ work: 'a', opened: 3 }).form).toEqual(typed('1'))
    expect(rows.of({ work: 'copy', opened: 2 }).form).toEqual(typed('2'))
    rows.put({ work: 'copy', opened: 2 }, typed('3'))
    const again = createCaliperRows(shelf)
    expect(['a', 'b', 'copy'].map((work) => again.of({ work, opened: 1 }).form)).toEqual(['1', '2', '3'].map(typed))
    for (let k = 0; k < 20; k++) rows.put({ work: `more ${k}`, opened: 9 + k }, typed('9'))
    expect(createCaliperRows(shelf).of(mine).form).toEqual(emptyForm)
  })

  it('are forgotten when somebody begins anew, who may bring them back', () => {
    const shelf = storage()
    createCaliperRows(shelf, () => 7).put(mine, typed('1'))
    const rows = createCaliperRows(shelf)
    rows.anew(mine)
    expect(rows.of(mine)).toEqual({ form: emptyForm, back: undefined, kept: true, aside: typed('1') })
    expect(createCaliperRows(shelf).of(mine).form).toEqual(emptyForm)
    rows.bringBack(mine)
    expect(rows.of(mine)).toMatchObject({ form: typed('1'), aside: undefined })
    expect(createCaliperRows(shelf).of(mine).form).toEqual(typed('1'))
    rows.anew(mine)
    rows.put(mine, typed('2'))
    expect(rows.of(mine).aside).toBeUndefined()
  })

  it('outlive the workshop where the browser refuses to keep them, and that is told', () => {
    const full = {
      getItem: () => null,
      setItem: () => {
        throw new Error('full')
      },
    }
    for (const shelf of [undefined, full]) {
      const rows = createCaliperRows(shelf)
      rows.put(mine, typed('1'))
      expect(rows.of(mine)).toMatchObject({ form: typed('1'), kept: false })
      rows.put({ work: 'b', opened: 2 }, typed('2'))
      expect(rows.of({ work: 'a', opened: 3 }).form).toEqual(typed('1'))
      rows.put(mine, emptyForm)
      expect(rows.of(mine).kept).toBe(true)
    }
    const nobodys = createCaliperRows(storage())
    nobodys.put({ work: undefined, opened: 0 }, typed('1'))
    expect(nobodys.of({ work: undefined, opened: 0 })).toMatchObject({ form: typed('1'), kept: false })
  })

  it('are passed over where the storage is damaged', () => {
    const shelf = storage()
    const row = (form: unknown) => JSON.stringify([{ key: 'a', at: 1, form }])
    const wrong = { ...typed('1'), measures: [{ from: 'left', to: 'right', jaws: 'teeth', readings: '1' }] }
    for (const text of ['{', '{}', '[null,3]', row({}), row({ holes: [{}], measures: [] }), row(wrong)]) {
      shelf.setItem(CALIPER_KEY, text)
      expect(createCaliperRows(shelf).of(mine).form).toEqual(emptyForm)
    }
    shelf.setItem(CALIPER_KEY, row(typed('1')))
    expect(createCaliperRows(shelf).of(mine).form).toEqual(typed('1'))
  })
})
