import { redirect } from 'next/navigation'

/** The latest month is the home page's to find. */
export default function MonthsPage() {
  redirect('/')
}
