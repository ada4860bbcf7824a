/** The part of js-quantities (which ships no types) that the tests use. */
declare module 'js-quantities' {
  export default class Qty {
    constructor(value: number, unit: string)
    to(unit: string): Qty
    readonly scalar: number
  }
}
