/** How every column of the comparison is reached; sensors and intervals stand on each machine's own page. */
export function MachinesExplained() {
  return (
    <details className="twin">
      <summary>How each column is reached</summary>
      <div className="explain">
        <p>
          Figures are of each machine’s latest month with logs, or of its latest log where that has no date.
          Sensors, basis and 95 % interval of a figure stand on the machine’s own page.
        </p>
        <dl>
          <dt>Waste</dt>
          <dd>
            (input while idle + over relief + unloading + metering, each with its share of motor and pump
            loss) ÷ electric input. What a machine’s sensors cannot separate is left out: the share is then
            too low.
          </dd>
          <dt>Waste by month</dt>
          <dd>waste share of each of the last twelve months; a month without a log breaks the line</dd>
          <dt>Idle</dt>
          <dd>electric input while no actuator moves ÷ electric input</dd>
          <dt>Cost per hour run</dt>
          <dd>cost of the logged input at the price of its hour ÷ hours with the motor running</dd>
          <dt>Energy per cycle</dt>
          <dd>electric input ÷ cycles found</dd>
          <dt>Coverage</dt>
          <dd>logged running hours ÷ planned hours of the month</dd>
          <dt>It saves</dt>
          <dd>
            the best option’s yearly saving, replayed on the latest log; its interval stands on its page
          </dd>
          <dt>A group’s line</dt>
          <dd>sums over its machines first, then the ratio; savings are added, each on its own machine</dd>
        </dl>
      </div>
    </details>
  )
}
