// biome-ignore-all lint/suspicious/noTemplateCurlyInString: samples of code
import { describe, expect, it } from 'vitest'
import { sources } from './arrows.ts'
import { keysIn, sentencesIn } from './sentences.ts'
import { visibleText } from './visible-text.ts'

/** Where the layers below the page keep their texts: DEVELOPERS.md, "Another language". */
const TEXTS =
  /^(?:solver|footprints|src\/(?:model|statics|electric|inspect|export|bring-in|worker))\/words(?:-[a-z]+)?\.ts$|^src\/(?:statics|electric)\/finding-kinds\.ts$|^src\/export\/(?:cautions|assembly-cautions|tables-columns)\.ts$/

/** Files, or beginnings of texts in them, with two words that are no text for people, and why. */
const NO_TEXT: Readonly<Record<string, string>> = {
  'solver/proof/': 'lines of the proof log, and what its replay answers to a test or a tool',
  'src/export/dxf-frame.ts': 'the file format’s own names of line types',
  'src/export/pdf-press.ts': 'operators of the page description',
  'src/model/part-question.ts': 'words that a question for a part may hold',
  'src/panels/focus-keeper.ts': 'selectors',
  'src/panels/item-wires.tsx open wire': 'the id of an element',
  'footprints/load.ts': 'what only a broken part of ours says, which a test finds',
  'src/bring-in/deck.ts deck brought in': 'the name of a project that only a reader sees',
  'src/main.tsx deckwright work': 'a key of the storage',
}

const all = sources(process.cwd())
const layers = all.filter(({ file }) =>
  /^(?:solver|footprints|src\/(?:model|statics|electric|inspect|export|bring-in|worker))\/.*\.ts$/.test(file),
)
const page = all.filter(({ file }) => /^src\/(?:panels|plan|scene|store)\/.*\.tsx?$|^src\/main\.tsx$/.test(file))

const keys = new Set([...layers, ...page].flatMap(({ file, text }) => keysIn(file, text)))

/** `file:line text` of what reads as a sentence, or a part of one, where none should stand. */
function left(files: typeof all): string[] {
  return files
    .filter(({ file }) => !TEXTS.test(file))
    .flatMap(({ file, text }) => sentencesIn(file, text, keys).map((found) => ({ file, ...found })))
    .filter(({ file, text }) => !Object.keys(NO_TEXT).some((known) => `${file} ${text}`.startsWith(known)))
    .map(({ file, line, text }) => `${file}:${line} ${text}`)
}

describe('text in one place', () => {
  it('stands in src/words, not in what draws it or gets it ready', () => {
    const visible = page.flatMap(({ file, text }) =>
      visibleText(file, text).map((found) => `${file}:${found.line} ${found.text}`),
    )
    expect(page.length).toBeGreaterThan(150)
    expect(visible).toEqual([])
    expect(left(page)).toEqual([])
  })

  it('stands in the words of each layer below the page, not beside its rules', () => {
    expect(layers.filter(({ file }) => TEXTS.test(file)).length).toBeGreaterThan(10)
    expect(left(layers)).toEqual([])
  })

  it('is found wherever people could read it, and only there', () => {
    const found = (code: string): string[] => visibleText('a.tsx', code).map((f) => `${f.line} ${f.text}`)
    expect(found('const A = () => (\n  <p>free</p>\n)')).toEqual(['2 free'])
    expect(found('const A = () => <p>{n} × {m} mm</p>')).toEqual([])
    expect(found("const A = () => <p>{held ? 'free it' : words.hold}</p>")).toEqual(['1 free it'])
    expect(found('const A = () => <p>{`${n} holes`}</p>')).toEqual(['1 holes'])
    expect(found('const A = () => <i aria-label={a ?? `hole ${n}`} />')).toEqual(['1 hole'])
    expect(found("const A = () => <img alt='plan' />")).toEqual(['1 plan'])
    expect(found("const A = () => <p className='list of things' id='x'>{words.a('free')}</p>")).toEqual([])
    expect(found("const why = 'The page cannot go on'")).toEqual(['1 The page cannot go on'])
    expect(found('const why = `Row ${n} is wrong.`')).toEqual(['1 Row 0 is wrong.'])
    expect(found("throw new Error('The caller forgot the plan')")).toEqual([])
    expect(found("// The page cannot go on\nconst a = 'text/csv; charset=utf-8'")).toEqual([])
  })

  it('is found anywhere by two words, where no type and no bug says them', () => {
    const found = (code: string): string[] =>
      sentencesIn('a.tsx', code, new Set(keysIn('a.tsx', code))).map((f) => `${f.line} ${f.text}`)
    expect(found("const a = { text: 'is open' }\nconst b = `${n} gives ${m} to ${k}`")).toEqual([
      '1 is open',
      '2 0 gives 0 to 0',
    ])
    expect(found("add('keep it dry')\nthrow new PdfError('no page at all')")).toEqual([
      '1 keep it dry',
      '2 no page at all',
    ])
    expect(found("throw new Error('a layout that was refused')\nconst a = { topic: 'open pin' }")).toEqual([])
    expect(
      found("type Fit = 'too thick' | 'fits'\nconst f: Fit = 'too thick'\nconst s = '<g fill=\"none\" id=\"x\">'"),
    ).toEqual([])
    expect(found("const A = () => <p className='chosen part'>{name ?? 'no name yet'}</p>")).toEqual(['1 no name yet'])
    expect(found("row.closest('dialog, input')?.focus()\nconst a = { className: b ? 'deck chosen' : '' }")).toEqual([])
    expect(found('const key = `${a} row ${j}`\nconst n = `${d} mm`')).toEqual([])
  })
})
