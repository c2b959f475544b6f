/**
 * Colours by role for pictures and models, the page's own (src/look.css): the colour-blind-safe set of Okabe & Ito
 * (2008), and greys. Every role also differs by its hatch, its outline or its transparency.
 */
export type Look = 'light' | 'dark'

export interface PlanColours {
  readonly paper: string
  readonly ink: string
  readonly quiet: string
  readonly free: string
  readonly covered: string
  readonly bodyFill: string
  readonly bodyLine: string
  readonly boardFill: string
  readonly deckFill: string
  readonly deckLine: string
  readonly corridor: string
  readonly sweep: string
  readonly reserved: string
  readonly warning: string
  readonly wire: string
}

export const planColours: Readonly<Record<Look, PlanColours>> = {
  light: {
    paper: '#fffefa',
    ink: '#1c2025',
    quiet: '#565c64',
    free: '#00805d',
    covered: '#6b6f75',
    bodyFill: '#d5e9f6',
    bodyLine: '#0a5f90',
    boardFill: '#fbfaf5',
    deckFill: '#ebe5d6',
    deckLine: '#6f6957',
    corridor: '#a87200',
    sweep: '#a34f7d',
    reserved: '#5f6267',
    warning: '#c24f00',
    wire: '#33383f',
  },
  dark: {
    paper: '#1d2125',
    ink: '#ebe8e0',
    quiet: '#b0b4b9',
    free: '#2cc295',
    covered: '#a3a8ae',
    bodyFill: '#21455c',
    bodyLine: '#6fc0ef',
    boardFill: '#252a2f',
    deckFill: '#36332c',
    deckLine: '#a09a88',
    corridor: '#e69f00',
    sweep: '#dc94bb',
    reserved: '#a8acb1',
    warning: '#ff8a3d',
    wire: '#d6d8da',
  },
}

export interface SolidColours {
  readonly ground: string
  readonly deck: string
  readonly body: string
  readonly board: string
  readonly free: string
  readonly sweep: string
  readonly corridor: string
  readonly wire: string
  readonly edge: string
}

export const solidColours: Readonly<Record<Look, SolidColours>> = {
  light: {
    ground: '#f6f4ee',
    deck: '#ddd3bb',
    body: '#7fbfe6',
    board: '#f4f1e6',
    free: '#009e73',
    sweep: '#cc79a7',
    corridor: '#e69f00',
    wire: '#33383f',
    edge: '#3c4147',
  },
  dark: {
    ground: '#15181b',
    deck: '#6a6557',
    body: '#3f8fc0',
    board: '#c6c3b8',
    free: '#007352',
    sweep: '#cc79a7',
    corridor: '#e69f00',
    wire: '#d6d8da',
    edge: '#0d0f11',
  },
}

/** Red, green, blue from 0 to 255. */
export function rgb(hex: string): readonly [number, number, number] {
  const n = Number.parseInt(hex.slice(1), 16)
  return [(n >> 16) & 255, (n >> 8) & 255, n & 255]
}
