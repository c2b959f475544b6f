/** The thread that inspects layouts for the page: it starts listening when it is loaded, which is what a worker is for. */
import { type InspectAsk, inspecting } from './inspect.ts'

const heard = inspecting((say) => self.postMessage(say))
self.addEventListener('message', (event: MessageEvent<InspectAsk>) => heard(event.data))
