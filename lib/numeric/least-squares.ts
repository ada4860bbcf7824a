import { inverse, Matrix, QrDecomposition } from 'ml-matrix'

export interface LinearFit {
  readonly coefficients: readonly number[]
  /** (X'X)⁻¹: times the residuals' variance it is the covariance of the coefficients. */
  readonly unscaled: Matrix
  readonly residuals: readonly number[]
  /** Rows less columns. */
  readonly degrees: number
  /** Residuals' variance, by the degrees of freedom; nil where there are none. */
  readonly variance: number
  /** Share of the variance around the mean that is explained; null where y is constant. */
  readonly r2: number | null
}

/** Columns are taken for dependent where so little of one is left beside the others, as a share of its length. */
const DEPENDENT_SHARE = 1e-9

/**
 * Ordinary least squares, y ≈ X·b, by Householder's QR on columns of unit length. `rows` are the rows of X, the constant
 * among them. Null where there are fewer rows than columns or columns depend on each other.
 */
export function leastSquares(rows: readonly (readonly number[])[], y: readonly number[]): LinearFit | null {
  const columns = rows[0]?.length ?? 0
  if (columns === 0 || rows.length < columns) return null
  const design = new Matrix(rows as number[][])
  const lengths = Array.from({ length: columns }, (_, j) => Math.hypot(...design.getColumn(j)))
  if (lengths.some((length) => !(length > 0))) return null
  lengths.forEach((length, j) => {
    design.mulColumn(j, 1 / length)
  })
  const qr = new QrDecomposition(design)
  const triangle = qr.upperTriangularMatrix
  for (let j = 0; j < columns; j++) if (Math.abs(triangle.get(j, j)) < DEPENDENT_SHARE) return null
  const coefficients = qr
    .solve(Matrix.columnVector(y as number[]))
    .to1DArray()
    .map((b, j) => b / lengths[j])
  const back = inverse(triangle)
  const unscaled = back.mmul(back.transpose())
  for (let j = 0; j < columns; j++) {
    unscaled.mulColumn(j, 1 / lengths[j])
    unscaled.mulRow(j, 1 / lengths[j])
  }
  const residuals = rows.map((row, i) => y[i] - row.reduce((sum, x, j) => sum + x * coefficients[j], 0))
  const degrees = rows.length - columns
  const squares = residuals.reduce((sum, residual) => sum + residual ** 2, 0)
  const mean = y.reduce((sum, value) => sum + value, 0) / y.length
  const total = y.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  return {
    coefficients,
    unscaled,
    residuals,
    degrees,
    variance: degrees > 0 ? squares / degrees : 0,
    r2: total > 0 ? 1 - squares / total : null,
  }
}
