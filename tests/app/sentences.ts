/** Finds literals that read as a sentence, or a part of one, in code that has no JSX: two words or more with a space between. */
import { parseAst } from 'vite'
import { children, type Found, type Node, textOf } from './visible-text.ts'

/** Values of such fields are keys, of which people see other words. */
const KEYS = new Set(['topic', 'kind', 'weight'])
/** Markup, path data and the like are for machines. */
const MACHINE = /^\s*[<[{]|[<>]|="/
const WORDS = /\p{L}{2,}[^\p{L}]* [^\p{L}]*\p{L}{2,}/u

/** A template's placeholders count as figures; what is keyed by types (a literal type somewhere in `keys`) is no text. */
export function sentencesIn(text: string, keys: ReadonlySet<string>): Found[] {
  const found: Found[] = []
  const walk = (node: Node): void => {
    if (node.type === 'ImportDeclaration' || node.type === 'TSLiteralType') return
    if (isBug(node)) return
    if (node.type === 'Property' && KEYS.has((node.key as { name?: string }).name ?? '')) {
      const value = node.value as Node
      if (value.type === 'Literal') return
    }
    const said = node.type === 'TemplateElement' ? undefined : textOf(node)
    if (said !== undefined && WORDS.test(said) && !MACHINE.test(said) && !keys.has(said))
      found.push({ line: text.slice(0, node.start).split('\n').length, text: said.trim() })
    for (const child of children(node)) walk(child)
  }
  walk(parseAst(text, { lang: 'ts' }) as unknown as Node)
  return found
}

/** `throw new Error(…)`: what only a bug can say. Errors of other classes are shown to people. */
function isBug(node: Node): boolean {
  const made = node.type === 'ThrowStatement' ? (node.argument as Node) : undefined
  const name = made?.type === 'NewExpression' ? (made.callee as { name?: string }).name : undefined
  return name === 'Error' || name === 'RangeError'
}

/** All literal types of a file: `'too thick' | 'fits'`. */
export function keysIn(text: string): string[] {
  const keys: string[] = []
  const walk = (node: Node): void => {
    if (node.type === 'TSLiteralType') keys.push(textOf(node.literal as Node) ?? '')
    for (const child of children(node)) walk(child)
  }
  walk(parseAst(text, { lang: 'ts' }) as unknown as Node)
  return keys
}
