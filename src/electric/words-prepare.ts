/** All texts of the preparation list. Trade facts here are common practice, no source, unless the code says otherwise. */
import { sized } from './words.ts'

/** What pieces of header are for. */
export const headerFor = {
  part: 'part to plug in',
  lead: 'lead that a contact does not hold',
  servo: 'servo plug',
} as const

export type HeaderFor = (typeof headerFor)[keyof typeof headerFor]

/** How a wire goes into a contact; the words are keys, of which people read the note. */
export type Fit = 'fits' | 'too thick' | 'too thin' | 'doubtful' | 'unknown'

export const fitNotes: Readonly<Record<Fit, string>> = {
  fits: 'solid wire goes in as it is; stranded wire needs a header pin',
  'too thick': 'would bend the contact open for good: solder a header pin to it, or use a screw block',
  'too thin': 'the contact would not hold it: solder a header pin to it',
  doubtful: 'thinner than most contacts hold: solder a header pin to it',
  unknown: 'gauge not given: 20 to 26 AWG solid goes in as it is, anything else needs a header pin',
}

/** Why a jumper cannot be a stiff one. */
export const flexible = {
  heights: 'its ends are at different heights',
  sweep: (head: string): string => `it crosses the sweep of ${head}: lay it round, and tie it down`,
  inWay: (item: string): string => `${item} stands in its way: lay it round`,
}

export const prepare = {
  relief: (leads: number): string =>
    `tie or clamp ${leads === 1 ? 'it' : 'them'} to the deck beside the hole, so that a pull does not reach a joint; edge of the hole smooth`,
  /** Plugs and contacts by what they are on. */
  plug: (item: string, plug: string): string => `${item}, ${plug}`,
  contact: (of: string, contact: string): string => `${of}, ${contact}`,
  strip: (board: string, contact: string): string => `${board}, strip of ${contact}`,
  ontoHeader: (plug: string): string => `the plug ${plug} goes onto a piece of header in these contacts`,
  lampsUp: 'lamps face up',
  faceDown: 'fitted face down, so that its lamps are seen: pin order mirrored',
  /** `rows` of pins as they lie once mirrored; `same`: on the contacts that they would be on otherwise. */
  lampsDown: (item: string, rows: readonly (readonly string[])[], same: boolean): string => {
    const seat = same ? 'its pins fit the same contacts, in another order' : 'its pins need other contacts'
    return `${item} has its lamps on the face that lies down as its footprint is drawn. Fit it face down, header on the front face; then ${seat}. Draw its footprint mirrored (${rows.map((r) => r.join(' ')).join(' / ')}) and ask again, or wires go to the wrong pins.`
  },
  gaugeUnfit: (lead: string, awg: number, contact: string, note: string): string =>
    `${lead} (${sized(awg)}) goes into a contact at ${contact}: ${note}.`,
}

/** What to lay ready, and why. */
export const tools = {
  snap: { tool: 'side cutters and flat pliers', why: 'to snap header pins off' },
  solder: {
    tool: 'soldering iron, solder, stand, and a spare breadboard to hold headers square',
    why: 'to solder headers and pins',
  },
  strip: { tool: 'wire stripper for 20 to 26 AWG', why: 'to bare the ends of jumpers and leads, 6 to 7 mm' },
  bend: { tool: 'long-nosed pliers and a rule', why: 'to bend jumpers to their steps' },
  tie: { tool: 'ties for flexible wires', why: 'to hold them clear of what moves' },
  screw: (thread: string) => ({ tool: `screwdriver for ${thread}`, why: 'to fasten what is screwed down' }),
  meter: { tool: 'meter', why: 'to find shorts and open joints before power is on' },
}

export const cautions: readonly string[] = [
  "Local codes, the makers' sheets of cells and parts, and licensed practice come first.",
  'Wear eye protection: header pins and wire ends fly when they are snapped or cut.',
  'Hot iron: keep it in its stand; draw the fumes away; wash your hands afterwards.',
  'Disconnect every supply, battery and data lead alike, before anything is plugged in or moved.',
  'Insulate bare ends; a short circuit across a battery burns and can set fire.',
]
