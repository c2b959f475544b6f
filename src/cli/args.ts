/** Command lines: which options a command has, what they must look like, and what to say when they do not. */
import { parseArgs } from 'node:util'
import { nearest, snippet } from '../../footprints/problems.ts'
import { BadInput } from './bad-input.ts'

export interface Option {
  /** What stands for the value in the usage line; none = a switch. */
  readonly value?: string
  readonly required?: boolean
  /** May be given more than once. */
  readonly many?: boolean
  readonly about: string
}

export interface Form {
  readonly command: string
  readonly about: string
  /** Names of the operands, all required. */
  readonly operands: readonly string[]
  /** Names of further operands, which may be left away. */
  readonly more?: readonly string[]
  readonly options: Readonly<Record<string, Option>>
}

export interface Given {
  readonly operands: readonly string[]
  readonly has: (option: string) => boolean
  readonly text: (option: string) => string | undefined
  readonly texts: (option: string) => readonly string[]
  /** A number in [least, most]; undefined when the option is not given. Throws BadInput. */
  readonly number: (option: string, what: string, least: number, most: number, whole?: boolean) => number | undefined
}

/** `deckwright solve FILE [--variant ID] …` */
export function usageOf(form: Form): string {
  const options = Object.entries(form.options).map(([name, o]) => {
    const text = `--${name}${o.value === undefined ? '' : ` ${o.value}`}`
    return o.required ? text : `[${text}]${o.many ? '…' : ''}`
  })
  const more = (form.more ?? []).map((name) => `[${name}]`)
  return ['deckwright', form.command, ...form.operands, ...more, ...options].join(' ')
}

export function helpOf(form: Form): string {
  const names = Object.entries(form.options).map(([n, o]) => `--${n}${o.value === undefined ? '' : ` ${o.value}`}`)
  const wide = Math.max(0, ...names.map((n) => n.length))
  const lines = Object.values(form.options).map((o, i) => `  ${names[i]!.padEnd(wide)}  ${o.about}`)
  return `${usageOf(form)}\n\n${form.about}\n\n${lines.join('\n')}\n`
}

/** Reads a command's arguments. Throws BadInput with everything that is wrong with them. */
export function readArgs(form: Form, args: readonly string[]): Given {
  const options = Object.fromEntries(
    Object.entries(form.options).map(([name, o]) => [
      name,
      { type: o.value === undefined ? ('boolean' as const) : ('string' as const), multiple: true as const },
    ]),
  )
  const { tokens } = parseArgs({ args: [...args], options, strict: false, allowPositionals: true, tokens: true })
  const problems: string[] = []
  const operands: string[] = []
  const values = new Map<string, string[]>()
  for (const token of tokens) {
    if (token.kind === 'positional') operands.push(token.value)
    if (token.kind !== 'option') continue
    const option = Object.hasOwn(form.options, token.name) ? form.options[token.name] : undefined
    if (!option || !token.rawName.startsWith('--')) {
      problems.push(unknownOption(form, token.rawName))
    } else if (option.value === undefined && token.value !== undefined) {
      problems.push(`--${token.name}: found a value, ${snippet(token.value)}, expected none`)
    } else if (option.value !== undefined && (token.value === undefined || /^--./.test(token.value))) {
      problems.push(`--${token.name}: found ${snippet(token.value)}, expected a value, --${token.name} ${option.value}`)
    } else if (values.has(token.name) && !option.many) {
      problems.push(`--${token.name}: found twice, expected once`)
    } else {
      values.set(token.name, [...(values.get(token.name) ?? []), token.value ?? ''])
    }
  }
  form.operands.slice(operands.length).forEach((name) => {
    problems.push(`${name}: found nothing, expected ${operandWords(name)}`)
  })
  // After an unknown option, what looks like an operand may be its value.
  const sure = problems.length === 0
  const names = [...form.operands, ...(form.more ?? [])]
  for (const extra of sure ? operands.slice(names.length) : []) {
    problems.push(`found ${snippet(extra)} after ${names.join(' and ')}, expected nothing more`)
  }
  if (operands.filter((o) => o === '-').length > 1) {
    problems.push(`found - twice, expected it once: there is one standard input`)
  }
  for (const [name, option] of Object.entries(form.options)) {
    if (option.required && !values.has(name)) {
      problems.push(`--${name}: found nothing, expected --${name} ${option.value}: ${option.about}`)
    }
  }
  if (problems.length > 0) throw new BadInput([...problems, `usage: ${usageOf(form)}`])
  const text = (option: string): string | undefined => values.get(option)?.[0]
  return {
    operands,
    has: (option) => values.has(option),
    text,
    texts: (option) => values.get(option) ?? [],
    number: (option, what, least, most, whole = false) => {
      const given = text(option)
      if (given === undefined) return undefined
      const value = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(given) ? Number(given) : Number.NaN
      if (value >= least && value <= most && (!whole || Number.isInteger(value))) return value
      throw new BadInput([`--${option}: found ${snippet(given)}, expected ${what} from ${least} to ${most}`])
    },
  }
}

function unknownOption(form: Form, raw: string): string {
  const names = Object.keys(form.options).map((n) => `--${n}`)
  const begun = names.filter((n) => n.startsWith(raw))
  const near = begun.length === 1 ? begun[0] : nearest(raw, names)
  const guess = near === undefined ? '' : ` (did you mean ${near}?)`
  return `found ${snippet(raw)}, which ${form.command} does not know, expected ${names.length === 0 ? 'no option' : `one of ${names.join(', ')}`}${guess}`
}

const OPERANDS: Readonly<Record<string, string>> = { LAYOUT: 'a layout file', DRAWING: 'a drawing or board file' }
const operandWords = (name: string): string => `${OPERANDS[name] ?? 'a project file'}, or - for standard input`
