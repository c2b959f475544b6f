/** The thread that the commands solve in: like the browser's, it starts listening when it is loaded. */
import { listen } from './node.ts'

listen()
