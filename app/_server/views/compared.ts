/** Machines that can be laid over one another: more would hide each other. */
export const MOST_COMPARED = 4
export const LEAST_COMPARED = 2
