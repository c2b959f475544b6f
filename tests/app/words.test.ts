// biome-ignore-all lint/suspicious/noTemplateCurlyInString: samples of code
import { describe, expect, it } from 'vitest'
import { sources } from './arrows.ts'
import { keysIn, sentencesIn } from './sentences.ts'
import { visibleText } from './visible-text.ts'

/** Where the layers below the page keep their texts: DEVELOPERS.md, "Another language". */
const TEXTS =
  /^(?:solver|src\/(?:statics|electric|inspect|export))\/words(?:-[a-z]+)?\.ts$|^src\/(?:statics|electric)\/finding-kinds\.ts$|^src\/export\/(?:cautions|assembly-cautions|tables-columns)\.ts$/

/** Files of the layers with literals of two words that are no text for people, and why. */
const NO_TEXT: Readonly<Record<string, string>> = {
  'solver/proof/': 'lines of the proof log, and what its replay answers to a test or a tool',
  'src/export/dxf-frame.ts': 'the file format’s own names of line types',
  'src/export/pdf-press.ts': 'operators of the page description',
}

const all = sources(process.cwd())
const below = all.filter(({ file }) => /^(?:solver|src\/(?:statics|electric|inspect|export))\/.*\.ts$/.test(file))
const screen = all.filter(({ file }) => /^src\/(panels|plan|scene)\/.*\.tsx?$|^src\/main\.tsx$/.test(file))

describe('text in one place', () => {
  it('stands in src/words, not in what draws it', () => {
    const left = screen.flatMap(({ file, text }) =>
      visibleText(file, text).map((found) => `${file}:${found.line} ${found.text}`),
    )
    expect(screen.length).toBeGreaterThan(100)
    expect(left).toEqual([])
  })

  it('stands in the words of each layer below the page, not beside its rules', () => {
    const keys = new Set(below.flatMap(({ text }) => keysIn(text)))
    const left = below
      .filter(({ file }) => !TEXTS.test(file) && !Object.keys(NO_TEXT).some((f) => file.startsWith(f)))
      .flatMap(({ file, text }) => sentencesIn(text, keys).map((found) => `${file}:${found.line} ${found.text}`))
    expect(below.filter(({ file }) => TEXTS.test(file)).length).toBeGreaterThan(10)
    expect(left).toEqual([])
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
  it('is found in code without screens by two words, where no type and no bug says them', () => {
    const found = (code: string): string[] => sentencesIn(code, new Set(keysIn(code))).map((f) => `${f.line} ${f.text}`)
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
    expect(found('const key = `${a} row ${j}`\nconst n = `${d} mm`')).toEqual([])
  })
})
