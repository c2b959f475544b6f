/** fast-check with a fixed seed, so that a run can be made again; the long runs draw a new one and say it when they fail. */
import fc from 'fast-check'

fc.configureGlobal(process.env.DECKWRIGHT_LONG === '1' ? {} : { seed: 20_261_125 })

export default fc
