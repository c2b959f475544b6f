/** The bin: hands the command line over and leaves with the exit code. */
import { main } from './main.ts'

// Not awaited here: what a command fetches later may share code with this file, and would wait for it for ever.
void main(process.argv.slice(2)).then((code) => {
  process.exitCode = code
})
