// biome-ignore-all lint/suspicious/noTemplateCurlyInString: samples of code
import { describe, expect, it } from 'vitest'
import { sources } from './arrows.ts'
import { visibleText } from './visible-text.ts'

const screen = sources(process.cwd()).filter(({ file }) =>
  /^src\/(panels|plan|scene)\/.*\.tsx?$|^src\/main\.tsx$/.test(file),
)

describe('text in one place', () => {
  it('stands in src/words, not in what draws it', () => {
    const left = screen.flatMap(({ file, text }) =>
      visibleText(file, text).map((found) => `${file}:${found.line} ${found.text}`),
    )
    expect(screen.length).toBeGreaterThan(100)
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
})
