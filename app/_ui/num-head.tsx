/** Head of a column of numbers, its unit beneath. */
export function NumHead({ name, unit }: { name: string; unit?: string }) {
  return (
    <th scope="col" className="num">
      {name} {unit ? <span className="unit">{unit}</span> : null}
    </th>
  )
}
