/** Lines without a thread: the solver and the inspection between the turns of the test's own. */
import { inspecting, type OpenInspect } from '../../src/worker/inspect.ts'
import type { OpenLine } from '../../src/worker/protocol.ts'
import { answerer } from '../../src/worker/serve.ts'

/** Between slices the thread is free. */
export const openHere: OpenLine = (hear) => {
  let ended = false
  const later = (go: () => void): void => {
    setTimeout(() => {
      if (!ended) go()
    }, 0)
  }
  const heard = answerer((say) => {
    if (!ended) hear(say)
  }, later)
  return {
    ask: (ask) => later(() => heard(ask)),
    stop: (id) => heard({ kind: 'stop', id }),
    end: () => {
      ended = true
    },
  }
}

/** Each look at the next turn. */
export const inspectHere: OpenInspect = (hear) => {
  let ended = false
  const heard = inspecting((say) => {
    if (!ended) hear(say)
  })
  return {
    ask: (ask) => {
      setTimeout(() => {
        if (!ended) heard(structuredClone(ask))
      }, 0)
    },
    end: () => {
      ended = true
    },
  }
}
