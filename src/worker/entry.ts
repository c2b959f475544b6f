/** The thread that the browser's worker runs: it starts listening when it is loaded, which is what a worker is for. */
import type { Ask, Stop } from './protocol.ts'
import { answerer } from './serve.ts'

/** A message to oneself: other messages come first, and unlike a timer it is not held back. */
const { port1, port2 } = new MessageChannel()
let next: () => void = () => {}
port1.onmessage = () => next()

const heard = answerer(
  (say) => self.postMessage(say),
  (go) => {
    next = go
    port2.postMessage(0)
  },
)
self.addEventListener('message', (event: MessageEvent<Ask | Stop>) => heard(event.data))
