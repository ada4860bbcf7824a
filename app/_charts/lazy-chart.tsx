'use client'
import dynamic from 'next/dynamic'

/** The chart, loaded only where one is shown. */
export const LazyChart = dynamic(() => import('./chart'), {
  ssr: false,
  loading: () => (
    <div className="chart-wait" style={{ height: 240 }}>
      Drawing …
    </div>
  ),
})
