/** Finds what a source file lets people read: text in JSX, attributes that are read out, and sentences anywhere in the code. */
import { parseAst } from 'vite'

export interface Found {
  /** From 1. */
  readonly line: number
  readonly text: string
}

export interface Node {
  readonly type: string
  readonly start: number
  readonly [key: string]: unknown
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string'

export const children = (node: Node): Node[] =>
  Object.values(node).flatMap((value) => (Array.isArray(value) ? value.filter(isNode) : isNode(value) ? [value] : []))

/** Attributes whose value is shown or spoken. */
const READ = new Set([
  'title',
  'aria-label',
  'aria-description',
  'aria-roledescription',
  'aria-valuetext',
  'aria-placeholder',
  'placeholder',
  'alt',
  'label',
])
/** Signs of units are the same in every language (ISO 80000). */
const UNITS = /(?<!\p{L})(?:mm|cm|m|in|kg|g|N|A|V|Hz|rad|x|y|z|u|v)(?!\p{L})/gu
const readable = (text: string): boolean => /\p{L}/u.test(text.replace(UNITS, ''))
/** Two words with a space between, or a capital with small letters after it and a full stop at the end: nothing a machine reads. */
const sentence = (text: string): boolean =>
  /^\p{Lu}[\p{Ll}’]*(?: [\p{L}\d“”’(]+)+|^\p{Lu}\p{Ll}+[.…:]$/u.test(text.trim())

/** What an expression may come to, as far as it is written down in it. */
function results(node: Node): Node[] {
  switch (node.type) {
    case 'ConditionalExpression':
      return [node.consequent, node.alternate].filter(isNode).flatMap(results)
    case 'LogicalExpression':
      return [node.left, node.right].filter(isNode).flatMap(results)
    case 'BinaryExpression':
      return node.operator === '+' ? [node.left, node.right].filter(isNode).flatMap(results) : []
    case 'TemplateLiteral':
      return [...(node.quasis as Node[]), ...(node.expressions as Node[]).flatMap(results)]
    case 'JSXExpressionContainer':
    case 'ParenthesizedExpression':
    case 'TSAsExpression':
    case 'TSNonNullExpression':
      return isNode(node.expression) ? results(node.expression) : []
    default:
      return [node]
  }
}

export const textOf = (node: Node): string | undefined => {
  if (node.type === 'Literal' && typeof node.value === 'string') return node.value
  if (node.type === 'TemplateLiteral')
    return (node.quasis as Node[]).map((q) => (q.value as { cooked?: string }).cooked ?? '').join('0')
  if (node.type === 'TemplateElement') return (node.value as { cooked?: string }).cooked ?? ''
  if (node.type === 'JSXText') return node.value as string
  return undefined
}

const trees = new Map<string, Node>()

/** The tree of a file, made once; `name` tells its language by its ending. */
export function parsed(name: string, text: string): Node {
  const lang = name.endsWith('.tsx') ? 'tsx' : 'ts'
  const tree = trees.get(text) ?? (parseAst(text, { lang }) as unknown as Node)
  trees.set(text, tree)
  return tree
}

/** Everything that people may read in a file's text. */
export function visibleText(name: string, text: string): Found[] {
  const seen = new Map<number, string>()
  const take = (node: Node, wanted: (text: string) => boolean): void => {
    const said = textOf(node)
    if (said !== undefined && wanted(said)) seen.set(node.start, said.trim())
  }
  const walk = (node: Node): void => {
    if (node.type === 'ImportDeclaration' || node.type === 'ThrowStatement') return
    if (node.type === 'JSXAttribute') {
      const attribute = (node.name as Node).name
      if (typeof attribute === 'string' && attribute === 'className') return
      if (typeof attribute === 'string' && READ.has(attribute) && isNode(node.value))
        for (const result of results(node.value)) take(result, readable)
    }
    if (node.type === 'JSXElement' || node.type === 'JSXFragment')
      for (const child of node.children as Node[]) {
        if (child.type === 'JSXText') take(child, readable)
        if (child.type === 'JSXExpressionContainer') for (const result of results(child)) take(result, readable)
      }
    take(node, sentence)
    for (const child of children(node)) walk(child)
  }
  walk(parsed(name, text))
  return [...seen]
    .sort(([a], [b]) => a - b)
    .map(([start, said]) => ({ line: text.slice(0, start).split('\n').length, text: said }))
}
