/** SVG text to a tree of elements. No entity is ever expanded; depth and number of elements are limited. */
import { type SaxesAttributeNS, SaxesParser, type SaxesTagNS } from 'saxes'
import { clip, snippet } from '../../footprints/problems.ts'
import { Refused } from './contours.ts'
import { svg } from './words-drawings.ts'

export interface Node {
  /** Local name; foreign elements, which only programs understand, have none. */
  readonly name: string
  readonly attributes: ReadonlyMap<string, string>
  readonly children: Node[]
  readonly line: number
  /** Text directly inside; kept for style sheets alone. */
  text: string
}

const DEEPEST = 100
const MOST_ELEMENTS = 500_000
const SVG = 'http://www.w3.org/2000/svg'
const XLINK = 'http://www.w3.org/1999/xlink'
const CHUNK = 1 << 16

/** The root element. Throws Refused, with the line, for text that is no XML, or whose root is not svg. */
export function svgTree(text: string): Node {
  const parser = new SaxesParser({ xmlns: true })
  const open: Node[] = []
  let root: Node | undefined
  let count = 0
  // XML has one line number for CR LF, as the parser counts.
  const refuse = (found: string, expected: string): never => {
    throw new Refused(found, expected, parser.line)
  }
  parser.on('error', (error) => refuse(xmlFault(error), svg.faultless))
  parser.on('doctype', (doctype) => {
    if (/<!ENTITY/i.test(doctype)) refuse(svg.entities, svg.noEntities)
  })
  parser.on('opentag', (tag) => {
    count += 1
    if (count > MOST_ELEMENTS) refuse(svg.manyElements(MOST_ELEMENTS), svg.fewer)
    if (open.length >= DEEPEST) refuse(svg.elementsDeep(open.length + 1), svg.atMostDeep(DEEPEST))
    const node = nodeOf(tag, parser.line)
    if (!root) {
      if (node.name !== 'svg') refuse(svg.root(clip(tag.name, 60)), '<svg>')
      root = node
    }
    open.at(-1)?.children.push(node)
    open.push(node)
  })
  parser.on('closetag', () => {
    open.pop()
  })
  const keep = (t: string): undefined => {
    const top = open.at(-1)
    if (top?.name === 'style') top.text += t
  }
  parser.on('text', keep)
  parser.on('cdata', keep)
  for (let at = 0; at < text.length; at += CHUNK) parser.write(text.slice(at, at + CHUNK))
  parser.close()
  return root ?? refuse(svg.noElement, '<svg>')
}

/** `3:7: unclosed tag: g` → `unclosed tag: g` in quotes, since it may hold text of the file. */
const xmlFault = (error: Error): string => snippet(error.message.replace(/^[^ ]*:?\d+:\d+: /, '').replace(/\.$/, ''))

function nodeOf(tag: SaxesTagNS, line: number): Node {
  const attributes = new Map<string, string>()
  for (const a of Object.values(tag.attributes) as SaxesAttributeNS[]) {
    if (a.uri === '' || (a.uri === XLINK && a.local === 'href')) {
      if (a.uri === '' || !attributes.has('href')) attributes.set(a.local, a.value)
      // The name that a drawing program shows for a layer.
    } else if (a.local === 'label') attributes.set('label', a.value)
  }
  return { name: tag.uri === SVG || tag.uri === '' ? tag.local : '', attributes, children: [], line, text: '' }
}
