/** The bin: hands the command line over and leaves with the exit code. */
import { main } from './main.ts'

process.exitCode = await main(process.argv.slice(2))
