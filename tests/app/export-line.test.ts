/** Files written on a thread are those that are written without one. */
import { describe, expect, it } from 'vitest'
import { type Asked, standing } from '../../src/panels/export-files.ts'
import { createWriters, type WriteAsk, writing } from '../../src/panels/export-line.ts'
import { filesOf } from '../../src/panels/export-write.ts'
import { SHOP } from '../../src/store/export-settings.ts'
import { viewOf } from '../../src/store/view.ts'
import { solvedSample } from './store-sample.ts'

type Listener = (event: unknown) => void

/** A thread of the test's own, through which only what can be copied goes. */
function thread() {
  const listeners = new Map<string, Listener>()
  const heard = writing(filesOf, (say) => listeners.get('message')?.({ data: structuredClone(say) }))
  const asks: WriteAsk[] = []
  return {
    asks,
    break: () => listeners.get('error')?.({}),
    line: (answers: boolean) => () => ({
      addEventListener: (name: string, listener: Listener) => listeners.set(name, listener),
      terminate: () => {},
      postMessage: (ask: WriteAsk) => {
        asks.push(structuredClone(ask))
        if (answers) void heard(asks.at(-1)!)
      },
    }),
  }
}

async function asked(): Promise<Asked> {
  const { store } = await solvedSample()
  return { view: viewOf(store.getState(), 0)!, file: 'moss.json', shop: SHOP, asMade: false, others: [] }
}

it('files come from the thread as they are', async () => {
  const { line, asks } = thread()
  const writers = createWriters(line(true) as never)
  const ask = await asked()
  for (const kind of ['svg', 'dxf', 'tables'] as const)
    expect(await writers.make(kind, ask)).toEqual(await filesOf(kind, ask))
  expect(asks.map((a) => a.kind)).toEqual(['svg', 'dxf', 'tables'])
  await expect(writers.make('svg', { ...ask, shop: { ...SHOP, kerf: Number.NaN } })).rejects.toThrow(/\w/)
  writers.end()
})

it('a thread that breaks while it writes is said, and another one takes the next', async () => {
  const ask = await asked()
  await expect(createWriters(() => undefined).make('svg', ask)).rejects.toThrow(/\w/)
  const [broken, sound] = [thread(), thread()]
  const lines = [broken.line(false), sound.line(true)]
  const writers = createWriters((() => lines.shift()!()) as never)
  const made = writers.make('svg', ask)
  await Promise.resolve()
  broken.break()
  await expect(made).rejects.toThrow(/\w/)
  expect(await writers.make('svg', ask)).toEqual(await filesOf('svg', ask))
})

describe('how the files stand', () => {
  const now = { asked: true, wrong: 0, busy: false, files: 1 }
  it('is said of what can be downloaded, and of nothing else', () => {
    expect(standing(now)).toBe('1 file ready.')
    expect(standing({ ...now, busy: true })).toBe('The files are being made.')
    // downloads are disabled while a field holds what cannot be, whatever was made before
    expect(standing({ ...now, wrong: 1 })).toMatch(/^Nothing is ready: a number/)
    expect(standing({ ...now, wrong: 1, busy: true })).toMatch(/^Nothing is ready/)
    // what could not be made, and what cannot be made of this layout, has its own sentence
    expect(standing({ ...now, files: 0 })).toBe('')
    expect(standing({ ...now, asked: false, busy: true })).toBe('')
  })
})
