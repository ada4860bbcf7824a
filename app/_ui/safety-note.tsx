/** The cautions that stand wherever a change to a circuit is proposed. */
export function SafetyNote() {
  return (
    <div className="note warn" role="note">
      <p>
        <strong>Before anything is changed.</strong> Lock out and verify zero energy; accumulators stay
        charged after shutdown. Never set a relief above the weakest component’s rating. A vent or a second
        setting must never leave a raised load unsupported, nor take the pressure from clamps, brakes or pilot
        supplies. A changed circuit of a press, lift or clamp calls for a new safety assessment.
      </p>
      <p>
        One log does not show everything the machine does: a person confirms the loads that were not logged
        (cold start, jam, largest tool). Local codes, the machine’s manual and a qualified person decide.
      </p>
    </div>
  )
}
