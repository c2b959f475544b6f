/**
 * Quantities besides lengths of the deck (`Um`), by type: volts cannot be handed in where amperes are asked for. Plain numbers, as
 * files and arithmetic give them, may become any of them; what has a unit may not become another.
 */
type Of<Unit extends string> = number & { readonly unit?: Unit }

export type Volt = Of<'V'>
export type Amp = Of<'A'>
export type Ohm = Of<'Ω'>
export type Watt = Of<'W'>
export type Hour = Of<'h'>
export type Celsius = Of<'°C'>
export type Millimetre = Of<'mm'>
export type SquareMillimetre = Of<'mm²'>
export type OhmPerMetre = Of<'Ω/m'>
export type AmpPerSquareMillimetre = Of<'A/mm²'>
export type Gram = Of<'g'>
export type Newton = Of<'N'>
export type Degree = Of<'°'>
