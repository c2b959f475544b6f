/** The house's arrows as named rules over what each file imports. */
import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, posix, relative, sep } from 'node:path'

export interface Source {
  /** From the root, with `/`. */
  readonly file: string
  readonly text: string
  /** As written, and for relative ones the file they mean. */
  readonly imports: readonly { readonly name: string; readonly target: string | undefined }[]
}

export interface Rule {
  readonly name: string
  /** For whoever breaks it: what to do instead. */
  readonly message: string
  /** What is wrong with one file, in the file's own words; nothing = fine. */
  readonly broken: (source: Source) => readonly string[]
}

const FOLDERS = ['solver', 'footprints', 'src', 'tests']

/** Every source file under the house's folders of `root`; fixtures are samples, not house. */
export function sources(root: string): Source[] {
  const found: Source[] = []
  const visit = (folder: string): void => {
    for (const name of readdirSync(folder).sort()) {
      const path = join(folder, name)
      const file = relative(root, path).split(sep).join('/')
      if (file === 'tests/fixtures' || name === 'node_modules') continue
      if (statSync(path).isDirectory()) visit(path)
      else if (/\.(ts|tsx|css|html)$/.test(name)) found.push(source(file, readFileSync(path, 'utf8')))
    }
  }
  for (const folder of FOLDERS) {
    const path = join(root, folder)
    if (statSync(path, { throwIfNoEntry: false })) visit(path)
  }
  return found
}

function source(file: string, text: string): Source {
  const code = text.replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '')
  const form =
    /\b(?:import|export)\s[^'"`;]*?\bfrom\s*['"]([^'"]+)['"]|\bimport\s*['"]([^'"]+)['"]|\bimport\s*\(\s*['"]([^'"]+)['"]|\bnew URL\(\s*['"](\.[^'"]+\.tsx?)['"]/g
  const imports = /\.tsx?$/.test(file)
    ? [...code.matchAll(form)].map((m) => {
        const name = (m[1] ?? m[2] ?? m[3] ?? m[4])!
        const target = name.startsWith('.') ? posix.join(dirname(file), name) : undefined
        return { name, target }
      })
    : []
  return { file, text, imports }
}

/** `solver`, `footprints`, `src/model` …; `src` for the files that stand in src itself. */
export function room(file: string): string {
  const [first, second, third] = file.split('/')
  return first === 'src' ? (third === undefined ? 'src' : `src/${second}`) : first!
}

const low = ['solver', 'footprints', 'src/model']
const middle = ['src/export', 'src/bring-in', 'src/electric', 'src/statics', 'src/inspect', 'src/store', 'src/worker']
/** Who may look at whom. Within the middle: what electric and statics know enters a solve through worker, and one report through inspect. */
const may: Readonly<Record<string, readonly string[]>> = {
  solver: [],
  footprints: ['solver'],
  'src/model': ['solver', 'footprints'],
  'src/export': low,
  'src/bring-in': low,
  'src/electric': low,
  'src/statics': low,
  'src/inspect': [...low, 'src/electric', 'src/statics'],
  'src/worker': [...low, 'src/electric', 'src/statics', 'src/inspect'],
  'src/words': [],
  'src/store': [...low, 'src/electric', 'src/statics', 'src/inspect', 'src/worker', 'src/words'],
  'src/scene': [...low, ...middle, 'src/words'],
  'src/plan': [...low, ...middle, 'src/words'],
  'src/panels': [...low, ...middle, 'src/scene', 'src/plan', 'src/words'],
  'src/cli': [...low, ...middle],
  src: [...low, ...middle, 'src/scene', 'src/plan', 'src/panels', 'src/words', 'demo-data'],
}

const packages = (s: Source): string[] => s.imports.filter((i) => i.target === undefined).map((i) => i.name)
const isOf = (name: string, ...wanted: readonly string[]): boolean =>
  wanted.some((w) => name === w || name.startsWith(`${w}/`))
const ENTRIES = [
  'src/main.tsx',
  'src/offline.ts',
  'src/worker/entry.ts',
  'src/worker/inspect-entry.ts',
  'src/panels/export-entry.ts',
  'src/worker/thread.ts',
  'src/cli/deckwright.ts',
  'src/cli/start.ts',
  'tests/bench/main.ts',
]

export const rules: readonly Rule[] = [
  {
    name: 'solver-imports-nothing',
    message: 'solver/ is pure: pass the value in, or move the code out. Only polish.ts may use javascript-lp-solver.',
    broken: (s) =>
      room(s.file) !== 'solver'
        ? []
        : packages(s).filter((name) => !(s.file === 'solver/polish.ts' && name === 'javascript-lp-solver')),
  },
  {
    name: 'arrows-one-way',
    message: 'solver ← footprints ← model ← export, electric, statics, store, worker ← scene, plan, panels, cli.',
    broken: (s) => {
      const own = room(s.file)
      if (own === 'tests') return []
      const allowed = may[own]
      if (!allowed) return [`the folder ${own} does not stand in the house`]
      return s.imports.flatMap(({ name, target }) => {
        if (target === undefined || room(target) === own) return []
        return allowed.includes(room(target)) ? [] : [name]
      })
    },
  },
  {
    name: 'three-only-in-scene',
    message: '3D lives in src/scene alone, so that the first paint and the plan do without it.',
    broken: (s) =>
      s.file.startsWith('src/scene/') || room(s.file) === 'tests'
        ? []
        : packages(s).filter((name) => isOf(name, 'three', '@react-three/fiber')),
  },
  {
    name: 'store-without-react',
    message: 'The store is tested without a screen: use zustand/vanilla there, and the React binding in panels.',
    broken: (s) =>
      s.file.startsWith('src/store/')
        ? packages(s).filter((name) => name === 'zustand' || isOf(name, 'react', 'react-dom', 'zustand/react'))
        : [],
  },
  {
    name: 'cli-without-dom',
    message: 'The commands run where there is no browser: no React, no document, no window.',
    broken: (s) =>
      s.file.startsWith('src/cli/')
        ? [
            ...packages(s).filter((name) => isOf(name, 'react', 'react-dom', 'three', '@react-three/fiber')),
            ...(s.text.match(/^(?!\s*(?:\*|\/\/|\/\*)).*?\b(?:document|window|localStorage)\./gm) ?? []),
          ]
        : [],
  },
  {
    name: 'check-shares-no-propagation',
    message:
      'The checker is a second opinion: of the solver it may see units, problem, result, shapes and words, nothing else.',
    broken: (s) =>
      s.file.startsWith('solver/check/')
        ? s.imports
            .filter(
              (i) =>
                !/^solver\/(check\/.*|units\.ts|problem\.ts|result\.ts|words\.ts|shapes[^/]*\.ts)$/.test(
                  i.target ?? '',
                ),
            )
            .map((i) => i.name)
        : [],
  },
  {
    name: 'node-only-at-the-edge',
    message: 'What the page uses too must not ask Node for anything; do it in src/cli.',
    broken: (s) =>
      ['src/cli', 'src/worker', 'tests'].includes(room(s.file)) ? [] : packages(s).filter((n) => n.startsWith('node:')),
  },
  {
    name: 'whole-endings',
    message: 'Relative imports name the file with its ending, .ts or .tsx.',
    broken: (s) =>
      s.imports
        .filter((i) => i.target !== undefined && !/\.(tsx?|json|css|csv|ttf)(\?\w+)?$/.test(i.name))
        .map((i) => i.name),
  },
  {
    name: 'no-work-at-import',
    message:
      'A module that is imported only defines; put the work into a function. (Statements only: initialisers are not seen.)',
    broken: (s) =>
      room(s.file) === 'tests' || ENTRIES.includes(s.file) || !/\.tsx?$/.test(s.file)
        ? []
        : (s.text.match(/^(?:await\b|for\b|while\b|if\b|try\b|do\b|[A-Za-z_$][\w$.]*\().*$/gm) ?? []),
  },
  {
    name: 'no-file-over-400-lines',
    message: 'A long file is two ideas: give the second its own.',
    broken: (s) => {
      const lines = s.text.split('\n').length - 1
      return lines > 400 ? [`${lines} lines`] : []
    },
  },
]
