/**
 * `npm run bench`: every answer checked first, then timed, beside reference runs in the same process. `-- --quick` takes fewer instances and
 * shorter limits; `-- --only NAME[,NAME]` takes some sections; `-- --write` writes tests/bench/RESULTS.md and growth.svg as well.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { parseArgs } from 'node:util'
import { memory, oneCase } from './memory.ts'
import { median, type Section, SHORT, WARM_UP, yardstick } from './timing.ts'

/** Loaded here, not above: a child that measures memory holds no reference solver. */
async function sections(): Promise<Section[]> {
  const { demos } = await import('./demos.ts')
  const { robots } = await import('./robots.ts')
  const { published, similar } = await import('./knapsack.ts')
  const { fit } = await import('./fit.ts')
  const { drags } = await import('./drags.ts')
  const { conflicts } = await import('./conflicts.ts')
  const { logCost } = await import('./log-cost.ts')
  const { inspection } = await import('./inspect.ts')
  const { growth } = await import('./growth.ts')
  const { page } = await import('./page.ts')
  return [demos, robots, published, similar, fit, drags, conflicts, inspection, page, memory, logCost, growth]
}

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      quick: { type: 'boolean', default: false },
      write: { type: 'boolean', default: false },
      only: { type: 'string' },
      case: { type: 'string' },
      seconds: { type: 'string', default: '10' },
    },
  })
  if (values.case !== undefined) return oneCase(values.case, Number(values.seconds))
  const all = await sections()
  const names = values.only?.split(',')
  const unknown = names?.find((n) => !all.some((s) => s.name === n))
  if (unknown !== undefined)
    throw new Error(`--only: found ${unknown}, expected some of ${all.map((s) => s.name).join(', ')}`)
  yardstick()
  const unit = median([yardstick(), yardstick(), yardstick()])
  const load = loadavg()[0]!.toFixed(1)
  const began = performance.now()
  const about = `Node ${process.version}, ${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${cpus().length} cores, load ${load} at the start; yardstick ${unit.toFixed(0)} ms. ${values.quick ? 'Quick run. ' : ''}Every answer is checked before it is timed; compile included; CP-SAT with one worker. *first* = the first run in this process, *warm* = the median of others after it; where the first took less than ${SHORT} ms, ${WARM_UP} more are made before, as the engine still compiles; references on packing sets likewise, on decks once.`
  const parts = [`# Bench\n\n${about}`]
  console.log(parts[0])
  for (const section of all) {
    if (names && !names.includes(section.name)) continue
    console.error(`… ${section.name}`)
    const settings = { quick: values.quick, unit }
    const text = await section
      .run(settings, (line) => console.error(`  ${line}`))
      .catch((e: unknown) => {
        // A wrong answer gets no figures, but the other sections theirs.
        process.exitCode = 1
        return `## ${section.name}\n\n**Wrong:** ${e instanceof Error ? e.message : e}`
      })
    parts.push(text)
    console.log(`\n${text}`)
  }
  parts.push(`${((performance.now() - began) / 60_000).toFixed(1)} minutes in all.`)
  console.log(`\n${parts.at(-1)}`)
  if (values.write) await write(parts, names)
}

/** The tables, and the plot where growth was measured. With `--only`, the sections measured now replace their old selves. */
async function write(parts: readonly string[], names: readonly string[] | undefined): Promise<void> {
  const file = 'tests/bench/RESULTS.md'
  let text = `${parts.join('\n\n')}\n`
  if (names && existsSync(file)) {
    const title = (s: string): string => s.slice(0, s.indexOf('\n'))
    const now = new Map(
      parts
        .slice(1, -1)
        .flatMap((p) => p.split(/\n\n(?=## )/))
        .map((s) => [title(s), s]),
    )
    const old = readFileSync(file, 'utf8')
      .trimEnd()
      .split(/\n\n(?=## )/)
    text = `${old.map((s) => now.get(title(s)) ?? s).join('\n\n')}\n`
  }
  writeFileSync(file, text)
  const { drawn } = await import('./growth.ts')
  if (drawn !== '') writeFileSync('tests/bench/growth.svg', drawn)
  console.log(`\nWritten to ${file}`)
}

// The reference's threads would keep the process alive.
main().then(
  () => process.exit(process.exitCode ?? 0),
  (e: unknown) => {
    console.error(e instanceof Error ? e.message : e)
    process.exit(1)
  },
)
