import { createHash } from 'node:crypto'
import { chmodSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { type Plugin, transformWithOxc } from 'vite'
import { defineConfig } from 'vitest/config'

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url))
const long = process.env.DECKWRIGHT_LONG === '1'

/** Tests of pure functions make and drop millions of small things: with room for them less is collected, which took a fifth of the time. */
const roomy = ['--min-semi-space-size=64', '--max-semi-space-size=64']

/** The bin is started by its own name once the package is linked, so its file must be executable. */
const executable = (path: string): Plugin => ({
  name: 'deckwright-executable',
  apply: 'build',
  closeBundle: () => chmodSync(path, 0o755),
})

/** Paths of all files under a folder, from it, with `/`. */
const filesUnder = (folder: string): string[] =>
  (readdirSync(folder, { recursive: true }) as string[])
    .filter((name) => statSync(join(folder, name)).isFile())
    .map((name) => relative(folder, join(folder, name)).split(sep).join('/'))
    .sort()

/** Writes the service worker beside the page, with the list of all that was built in front of it. */
const offline = (): Plugin => ({
  name: 'deckwright-offline',
  apply: 'build',
  writeBundle: {
    order: 'post',
    handler: async ({ dir }) => {
      if (dir === undefined) return
      const source = at('./src/offline.ts')
      const { code } = await transformWithOxc(readFileSync(source, 'utf8'), source)
      const files = filesUnder(dir).filter((name) => name !== 'offline.js')
      const hash = createHash('sha256').update(code)
      for (const name of files) hash.update(name).update(readFileSync(join(dir, name)))
      const head = `const OFFLINE_FILES = ${JSON.stringify(files)}\nconst OFFLINE_VERSION = '${hash.digest('hex').slice(0, 16)}'\n`
      writeFileSync(join(dir, 'offline.js'), head + code)
    },
  },
})

/** What the glTF library fetches in the part of it that is for Node: the page has nothing of that part, and nobody need be warned of it. */
const FOR_NODE = ['node:fs', 'node:path']

/** How long a build took on a busy machine is no warning. */
const checks = { bundlerTimings: false }

/** `vite build` makes the page, `vite build --ssr` the commands, `--mode bench` with `--ssr` the bench; everything bundled. */
export default defineConfig(({ isSsrBuild, mode }) => {
  if (isSsrBuild) {
    const bench = mode === 'bench'
    const outDir = at(bench ? './dist/bench' : './dist/cli')
    const input: Record<string, string> = bench
      ? { bench: at('./tests/bench/main.ts') }
      : {
          deckwright: at('./src/cli/deckwright.ts'),
          start: at('./src/cli/start.ts'),
          'solver-thread': at('./src/worker/thread.ts'),
        }
    return {
      publicDir: false as const,
      ssr: { noExternal: bench ? [/^(?!highs|or-tools-wasm|playwright-core|@sparticuz)/] : (true as const) },
      plugins: bench ? [] : [executable(at('./dist/cli/deckwright.js'))],
      build: {
        outDir,
        // A running command must never find its own file gone.
        emptyOutDir: false,
        copyPublicDir: false,
        target: 'node20',
        minify: false,
        rolldownOptions: {
          checks,
          input,
          output: {
            entryFileNames: '[name].js',
            // without a hash, so that no old ones pile up
            chunkFileNames: '[name].js',
            banner: '#!/usr/bin/env node',
          },
        },
      },
    }
  }
  return {
    root: at('./src'),
    base: './',
    publicDir: at('./src/static'),
    plugins: [react(), offline()],
    worker: { format: 'es' as const, rolldownOptions: { checks, external: FOR_NODE } },
    build: {
      outDir: at('./dist/page'),
      emptyOutDir: true,
      target: 'es2022',
      chunkSizeWarningLimit: 1500,
      rolldownOptions: {
        checks,
        output: {
          codeSplitting: {
            // The 3D view arrives after the first paint, so nothing of it may be in the entry's chunk.
            // A group takes what its modules import along with it, so what the page shares with the view goes first.
            groups: [
              {
                name: 'shared',
                test: /node_modules[\\/](react|react-dom|scheduler|zustand|use-sync-external-store)[\\/]/,
                priority: 2,
              },
              { name: 'three', test: /node_modules[\\/](three|@react-three)[\\/]/, priority: 1 },
            ],
          },
        },
      },
    },
    test: {
      root: at('./'),
      reporters: ['default', at('./tests/reporter.ts')],
      projects: [
        {
          root: at('./'),
          test: {
            name: 'unit',
            environment: 'node',
            // One a core: nothing else runs meanwhile. Modules are loaded once for many files: these are pure functions, or make what they
            // need (stores, threads) for each test and put a clock back.
            execArgv: roomy,
            maxWorkers: 2,
            isolate: false,
            include: ['tests/**/*.test.{ts,tsx}'],
            exclude: ['tests/e2e/**', 'tests/app/cli-*', 'tests/fixtures/**'],
            testTimeout: long ? 600_000 : 30_000,
            hookTimeout: 60_000,
          },
        },
        {
          root: at('./'),
          test: {
            // Tests of the bundled commands, as a user types them.
            name: 'cli',
            maxWorkers: 2,
            isolate: false,
            environment: 'node',
            include: ['tests/app/cli-*.test.ts'],
            // Told instead of typed, they solve on the built thread too.
            alias: [{ find: /^\.\.\/worker\/node\.ts$/, replacement: at('./tests/app/built-thread.ts') }],
            globalSetup: [at('./tests/app/cli-setup.ts')],
            testTimeout: 60_000,
            hookTimeout: 60_000,
          },
        },
        {
          root: at('./'),
          test: {
            // A browser that renders in software wants both cores, so after all the others; one alone leaves a quarter of them unused.
            name: 'e2e',
            environment: 'node',
            include: ['tests/e2e/**/*.test.ts'],
            globalSetup: [at('./tests/e2e/setup.ts')],
            maxWorkers: 2,
            isolate: false,
            sequence: { groupOrder: 1 },
            testTimeout: 120_000,
            hookTimeout: 180_000,
          },
        },
      ],
    },
  }
})
