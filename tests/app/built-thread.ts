/** A command that is told instead of typed is source, beside which no thread is built: it solves on the built one. */
import { openInNode as open } from '../../src/worker/node.ts'

export { listen } from '../../src/worker/node.ts'

export const openInNode = (): ReturnType<typeof open> =>
  open(new URL('../../dist/cli/solver-thread.js', import.meta.url))
