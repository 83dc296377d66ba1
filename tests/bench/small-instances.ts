/**
 * Four small instances, one for each family, invented here, with an optimal schedule found by hand. They keep readers
 * and verifiers covered where the published files are absent.
 */
import type { Family } from "./families.js";
import type { Schedule } from "./verify/schedule.js";

export interface SmallInstance {
  readonly family: Family;
  readonly text: string;
  readonly optimum: number;
  readonly optimal: Schedule;
}

/**
 * Jobs 2 and 3 need two of three units each and job 5 all three, so that no two of these overlap: 3 + 2 + 1 = 6 at
 * least. Job 4 fits beside job 3.
 */
export const SMALL_PROJECT: SmallInstance = {
  family: "psplib",
  optimum: 6,
  optimal: {
    starts: [0, 0, 3, 3, 5, 6],
    ends: [0, 3, 5, 5, 6, 6],
    crews: [-1, -1, -1, -1, -1, -1],
  },
  text: `************************************************************************
file with basedata            : none
initial value random generator: 0
************************************************************************
projects                      :  1
jobs (incl. supersource/sink ):  6
horizon                       :  8
RESOURCES
  - renewable                 :  1   R
  - nonrenewable              :  0   N
  - doubly constrained        :  0   D
************************************************************************
PROJECT INFORMATION:
pronr.  #jobs rel.date duedate tardcost  MPM-Time
    1      4      0        8        0        5
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           5
   4        1          1           6
   5        1          1           6
   6        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
------------------------------------------------------------------------
  1      1     0       0
  2      1     3       2
  3      1     2       2
  4      1     2       1
  5      1     1       3
  6      1     0       0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1
    3
************************************************************************
`,
};

/**
 * 1:3 needs both units of the first resource and 1:2 one of them: 3 + 2 = 5 at least. 2:2 fits beside 1:2, although
 * its project is not released before 1.
 */
export const SMALL_PORTFOLIO: SmallInstance = {
  family: "mplib",
  optimum: 5,
  optimal: {
    starts: [0, 0, 3, 5, 1, 1, 3],
    ends: [0, 3, 5, 5, 1, 3, 3],
    crews: [-1, -1, -1, -1, -1, -1, -1],
  },
  text: `   2
   2
   2   1

   4   0
   1   1

   0   0   0   2 1:2 1:3
   3   1   0   1 1:4
   2   2   1   1 1:4
   0   0   0   0

   3   1
   1   1

   0   0   0   1 2:2
   2   1   1   1 2:3
   0   0   0   0
`,
};

/**
 * With the first operation on machine 2, job 1 takes 5 + 2 = 7. With it on machine 1, the first operations share that
 * machine until 5, and the shorter rest of a job takes 2 more. So 7 at least.
 */
export const SMALL_SHOP: SmallInstance = {
  family: "fjsp",
  optimum: 7,
  optimal: { starts: [2, 5, 0, 2], ends: [5, 7, 2, 5], crews: [0, 1, 0, 1] },
  text: `2\t2  1.5
 2  2 1 3 2 5  1 2 2
 2  1 1 2   2 1 4 2 3 `,
};

/** Tasks 1 and 3 follow each other: 4 + 2 = 6 at least. Resource 2 has time for the other two in these 6 minutes. */
export const SMALL_SKILLS: SmallInstance = {
  family: "imopse",
  optimum: 6,
  optimal: { starts: [0, 0, 4, 3], ends: [4, 3, 6, 6], crews: [0, 1, 0, 1] },
  text: `==========
File name: small.def
Reference:
none, invented
==========
General characteristics:
Tasks: 4
Resources: 2
Precedence relations: 2
Number of skill types: 2
==========
ResourceID \t Salary \t Skills
1\t \t \t10.5\t \t Q0: 1\t  Q1: 2\t
2\t \t \t20.0\t \t Q0: 2\t
==========
TaskID \t Duration \t Skill \t Predecessor IDs
1\t \t \t4\t Q0: 1\t
2\t \t \t3\t Q0: 2\t
3\t \t \t2\t Q1: 1\t \t1\t
4\t \t \t3\t Q0: 0\t \t2\t
==========
`,
};

export const SMALL_INSTANCES: readonly SmallInstance[] = [
  SMALL_PROJECT,
  SMALL_PORTFOLIO,
  SMALL_SHOP,
  SMALL_SKILLS,
];
