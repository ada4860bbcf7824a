import { options } from './options'

const isOffered = (id: string): id is keyof typeof options => Object.hasOwn(options, id)

/** An option's title; one that the catalogue no longer has, as months closed long ago may name, by its id. */
export const optionTitle = (id: string): string =>
  isOffered(id) ? options[id].title : `“${id}”, no longer offered`
