/** The thread that the browser's worker runs: it starts listening when it is loaded, which is what a worker is for. */
import type { Ask } from './protocol.ts'
import { answer } from './serve.ts'

self.addEventListener('message', (event: MessageEvent<Ask>) => answer(event.data, (say) => self.postMessage(say)))
