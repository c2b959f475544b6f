/** What is said where a thread cannot be had, or has gone. */
export const threads = {
  noWorkers: 'this browser has no workers to solve in',
  noSolver: 'the solver could not be loaded',
  solverEnded: 'the thread that solves has ended',
  noWorkersAtAll: 'this browser has no workers',
  noInspection: 'the inspection could not be loaded',
}
