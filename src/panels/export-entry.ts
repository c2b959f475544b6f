/** The thread that writes the export sheet's files: it starts listening when it is loaded, which is what a worker is for. */

import { type WriteAsk, writing } from './export-line.ts'
import { filesOf } from './export-write.ts'

const heard = writing(filesOf, (say) => self.postMessage(say))
self.addEventListener('message', (event: MessageEvent<WriteAsk>) => void heard(event.data))
