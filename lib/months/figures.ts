import { WASTE_KINDS, type WasteKind } from './waste'

/** What a month says of a machine at the meter, in the order of every vector and covariance of months. */
export const FIGURES = ['electric', ...WASTE_KINDS] as const
export type Figure = 'electric' | WasteKind
export const FIGURE_COUNT = FIGURES.length

export const figureIndex = (figure: Figure) => FIGURES.indexOf(figure)
