import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'

/** Safe fitting, with boxes to tick on paper. */
export function CheckLists() {
  return (
    <section className="sheet starts-page">
      <h2>Fitting safely</h2>
      <div className="note warn" role="note">
        <p>
          <strong>Local codes, the machine’s manual and a qualified person decide</strong>; this list reminds
          and replaces none of them. Oil under pressure goes through skin, hot oil burns, stored energy moves
          machines that are switched off.
        </p>
      </div>
      {WORDS.checkLists.map(({ title, items }) => (
        <div key={title} className="check-list">
          <h3>{title}</h3>
          <ul className="boxes">
            {items.map((item) => (
              <li key={item}>{item}</li>
            ))}
          </ul>
        </div>
      ))}
      <p className="signed">
        Checked by <span className="blank wide-blank" /> Date <span className="blank" />
      </p>
    </section>
  )
}
