/** A class does not take more points; an automatic that goes wrong must not fill the disk. */
export const MOST_POINTS = 500

/** Most traces of a run, and most readings of a trace. */
export const MOST_TRACES = 60
export const MOST_READINGS = 200_000
