/** Runs the built command as a shell would, and small invented projects to run it on. */
import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { main } from '../../src/cli/main.ts'

export const root = join(import.meta.dirname, '../..')
export const bin = join(root, 'dist/cli/deckwright.js')

export interface Ran {
  readonly code: number | null
  readonly out: string
  readonly err: string
  readonly ms: number
}

export interface Running {
  readonly child: ChildProcess
  readonly done: Promise<Ran>
}

/** Starts `deckwright …args`; `input` goes to its standard input. */
export function start(args: readonly string[], input = '', cwd = root): Running {
  const from = performance.now()
  const child = spawn(process.execPath, [bin, ...args], { cwd })
  let out = ''
  let err = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    out += text
  })
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    err += text
  })
  child.stdin.on('error', () => {})
  child.stdin.end(input)
  return {
    child,
    done: new Promise((settle) => {
      child.once('close', (code) => settle({ code, out, err, ms: performance.now() - from }))
    }),
  }
}

export const run = (args: readonly string[], input?: string, cwd?: string): Promise<Ran> => start(args, input, cwd).done

/**
 * The same without a process of its own, for what many rows of a table ask: the code of the command, its exit code and both its streams.
 * Nothing of it may read standard input. Each table has rows that are typed as well.
 */
export async function told(args: readonly string[]): Promise<Ran> {
  const from = performance.now()
  const out: Uint8Array[] = []
  const err: string[] = []
  const code = await main(args, {
    out: (result) => void out.push(typeof result === 'string' ? Buffer.from(result) : result),
    err: (line) => void err.push(`${line}\n`),
  })
  return { code, out: Buffer.concat(out).toString('utf8'), err: err.join(''), ms: performance.now() - from }
}

export const LONG = process.env.DECKWRIGHT_LONG === '1'

/** Typed in the long run, and else every twelfth row of a table; the others are told. */
export const some = (row: number): ((args: readonly string[]) => Promise<Ran>) => (LONG || row % 12 === 0 ? run : told)

/**
 * Typed in the long run, else told: for what a command says and writes, once others of the same file have shown that it can be typed.
 * `input` is then a file in place of the first `-`.
 */
export async function asked(args: readonly string[], input?: string): Promise<Ran> {
  if (LONG) return run(args, input)
  if (input === undefined) return told(args)
  const { put, remove } = folder()
  const [at, file] = [args.indexOf('-'), put('input.json', input)]
  return told(args.map((arg, k) => (k === at ? file : arg))).finally(remove)
}

/** A folder of its own for each test file, with a way to put JSON into it. */
export function folder(): { path: string; put: (name: string, value: unknown) => string; remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'deckwright-test-'))
  return {
    path,
    put: (name, value) => {
      const file = join(path, name)
      writeFileSync(file, typeof value === 'string' ? value : JSON.stringify(value, null, 2))
      return file
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  }
}

const screwed = {
  format: 'deckwright-footprint',
  version: 1,
  id: 'tile',
  name: 'tile with two screws',
  source: 'invented for a test',
  kind: 'board',
  body: { width: 20, depth: 10, height: 5 },
  mount: {
    kind: 'screw',
    standoff: 3,
    holes: [
      { id: 'a', at: [4, 5], diameter: 3.2 },
      { id: 'b', at: [16, 5], diameter: 3.2 },
    ],
  },
  terminals: [{ id: 't', at: [0, 5] }],
}

/** Two tiles on a small plate, a lead to one of them; variant `tight` has a plate too small for both. */
export const plate = (): Record<string, unknown> & {
  decks: Record<string, unknown>[]
  items: Record<string, unknown>[]
} => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'test plate',
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 60, 30] } }],
  exits: [{ id: 'lead', deck: 'main', at: [30, 2] }],
  footprints: [screwed],
  items: [
    { id: 'one', footprint: 'tile' },
    { id: 'two', footprint: 'tile', place: [{ kind: 'edge', edge: 'left', within: 0 }] },
  ],
  wires: [{ id: 'red', from: { exit: 'lead' }, to: { item: 'one', terminal: 't' }, loop: 10 }],
  variants: [
    { id: 'wide', name: 'a wide plate' },
    { id: 'tight', name: 'a tight plate', decks: { main: { outline: { rect: [0, 0, 32, 15] } } } },
  ],
})

/** The same on tracks, with tiles that weigh something: what it balances by is no round number. */
export const tilted = () => {
  const corners = [
    [0, 0],
    [61, 0],
    [57, 31],
    [0, 29],
  ]
  return {
    ...plate(),
    footprints: [{ ...screwed, mass: 17 }],
    chassis: { contact: corners, mass: 333, centre: [28.123, 13.457, 20] },
  }
}

/** A legal layout of `wide`, made by hand. */
export const byHand = (): Record<string, unknown> & { placements: Record<string, unknown>[] } => ({
  format: 'deckwright-layout',
  version: 1,
  variant: 'wide',
  placements: [
    { item: 'one', deck: 'main', at: [30, 10], turn: 0 },
    { item: 'two', deck: 'main', at: [0, 10], turn: 0 },
  ],
})

/** Two decks, one tile on each. */
export const tower = () => {
  const p = plate()
  const { variants: _, wires: __, exits: ___, ...rest } = p
  return {
    ...rest,
    decks: [...p.decks, { id: 'upper', z: 80, thickness: 3, outline: { rect: [0, 0, 60, 30] } }],
    items: [
      { id: 'one', footprint: 'tile', decks: ['main'] },
      { id: 'two', footprint: 'tile', decks: ['upper'] },
    ],
  }
}

/** A layout of it. */
export const standing = () => ({
  format: 'deckwright-layout',
  version: 1,
  placements: [
    { item: 'one', deck: 'main', at: [30, 10] },
    { item: 'two', deck: 'upper', at: [0, 10] },
  ],
})

/** Far more than a second's work: thirty optional tiles of odd sizes and wires between all of them. */
export const crowd = () => {
  const sizes = Array.from({ length: 30 }, (_, i) => [7 + ((i * 5) % 13), 6 + ((i * 7) % 11)] as const)
  return {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'crowd',
    decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 61, 47] } }],
    footprints: sizes.map(([width, depth], i) => ({
      format: 'deckwright-footprint',
      version: 1,
      id: `f${i}`,
      name: `f${i}`,
      source: 'invented for a test',
      kind: 'part',
      body: { width, depth, height: 4 },
      mount: { kind: 'adhesive' },
      terminals: [{ id: 't', at: [1, 1] }],
    })),
    items: sizes.map(([w, d], i) => ({ id: `i${i}`, footprint: `f${i}`, required: false, value: w * d })),
    wires: sizes.slice(1).map((_, i) => ({
      id: `w${i}`,
      from: { item: `i${i}`, terminal: 't' },
      to: { item: `i${i + 1}`, terminal: 't' },
    })),
  }
}
