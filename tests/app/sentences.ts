/** Finds literals that read as a sentence, or a part of one: two words or more with a space between. */
import { children, type Found, type Node, parsed, textOf } from './visible-text.ts'

/** Values of such fields are keys, of which people see other words. */
const KEYS = new Set(['topic', 'kind', 'weight'])
/** Markup, styles, shaders and the like are for machines. */
const MACHINE = /^\s*[<[{]|[<>]|="|(?:translate|matrix|gradient)\(|^\([\w-]+: [\w-]+\)|\dpx|;\n/
const WORDS = /(?:\p{L}|\d+(?=\p{L}))\p{L}[^\p{L}]* [^\p{L}]*\p{L}{2,}/u

/** Attributes and fields that only the browser reads. */
const BROWSER = new Set(['className', 'd', 'transform', 'viewBox', 'points', 'aria-describedby', 'aria-labelledby'])
/** What these take is a selector. */
const SELECT = new Set(['closest', 'matches', 'querySelector', 'querySelectorAll'])

/** `name` tells the language of the file by its ending. A template's placeholders count as figures; what is keyed by types (a literal type somewhere in `keys`) is no text. */
export function sentencesIn(name: string, text: string, keys: ReadonlySet<string>): Found[] {
  const found: Found[] = []
  const walk = (node: Node): void => {
    if (node.type === 'ImportDeclaration' || node.type === 'TSLiteralType') return
    if (isBug(node)) return
    if (forBrowser(node)) return
    if (node.type === 'Property' && KEYS.has((node.key as { name?: string }).name ?? '')) {
      const value = node.value as Node
      if (value.type === 'Literal') return
    }
    const said = node.type === 'TemplateElement' ? undefined : textOf(node)
    if (said !== undefined && WORDS.test(said) && !MACHINE.test(said) && !keys.has(said))
      found.push({ line: text.slice(0, node.start).split('\n').length, text: said.trim() })
    for (const child of children(node)) walk(child)
  }
  walk(parsed(name, text))
  return found
}

function forBrowser(node: Node): boolean {
  const named = (of: unknown): string => String((of as { name?: unknown; value?: unknown } | undefined)?.name ?? '')
  if (node.type === 'JSXAttribute') return BROWSER.has(named(node.name))
  if (node.type === 'Property') return BROWSER.has(named(node.key))
  if (node.type !== 'CallExpression') return false
  const callee = node.callee as Node
  const called = callee.type === 'ChainExpression' ? (callee.expression as Node) : callee
  return SELECT.has(named(called.property))
}

/** `throw new Error(…)`: what only a bug can say. Errors of other classes are shown to people. */
function isBug(node: Node): boolean {
  const made = node.type === 'ThrowStatement' ? (node.argument as Node) : undefined
  const name = made?.type === 'NewExpression' ? (made.callee as { name?: string }).name : undefined
  return name === 'Error' || name === 'RangeError'
}

/** All literal types of a file: `'too thick' | 'fits'`. */
export function keysIn(name: string, text: string): string[] {
  const keys: string[] = []
  const walk = (node: Node): void => {
    if (node.type === 'TSLiteralType') keys.push(textOf(node.literal as Node) ?? '')
    for (const child of children(node)) walk(child)
  }
  walk(parsed(name, text))
  return keys
}
