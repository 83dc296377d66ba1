/**
 * The model in MiniZinc, for any solver that it knows, and the numbers of a company for it. A solution is a crew for
 * each activity and an order for each crew; all times follow from them, because a plan must be prompt (rule 13): each
 * piece starts at the first point that is open to it.
 */
export const MODEL = `
int: K; int: N; int: P; int: H; int: W; int: D; int: DAY = 1440;
set of int: CREW = 1..K; set of int: ACT = 1..N; set of int: PIECE = 1..P; set of int: DAYS = 0..D-1;
set of int: SLOT = 0..K*D-1;                              % crew and day in one: (crew - 1) * D + day
array[ACT] of int: house;
array[ACT] of int: release;
array[ACT,CREW] of int: minutes;                          % 0: may not
array[ACT] of int: firstPiece; array[ACT] of int: lastPiece;
array[PIECE] of int: act; array[PIECE] of bool: whole;
array[PIECE,CREW] of int: pieceMinutes;
array[PIECE] of int: latestRow;                           % 1-based row of latestBefore
int: R; array[1..R,SLOT] of int: latestBefore;            % the last point before that day at which the piece could begin
array[SLOT] of int: from; array[SLOT] of int: to;         % window, minutes after shift start
array[SLOT] of int: worked;                               % minutes of windows before that day
array[SLOT] of int: paidIdle;                             % idle minutes of a called-out day without work
int: E; array[1..E] of int: edgeFrom; array[1..E] of int: edgeTo; array[1..E] of int: edgeLag; array[1..E] of bool: nextDate;
array[1..W] of int: waitHouse; array[1..W*D] of int: waitEnd;
int: X; array[1..X] of int: waitOf; array[1..X] of int: waitAfter;      % a wait comes after an activity
int: Y; array[1..Y] of int: byWait; array[1..Y] of int: afterWait;      % an activity comes after a wait
array[1..H,1..H] of int: travel; int: setup; int: cleanup; int: rest;   % rest: the meal break's minute
array[1..H] of int: promised; array[1..H] of int: weight; array[1..H] of int: lastDay; int: bound;
int: lateCost; int: idleCost; int: overtimeCost;          % of a day and of minutes, in one small unit
int: weeks; array[DAYS] of int: weekOf; array[SLOT] of int: paid; int: weeklyMinutes;

array[ACT] of var CREW: crew :: add_to_output;
array[PIECE] of var SLOT: startSlot; array[PIECE] of var SLOT: endSlot;
array[PIECE] of var 0..DAY-1: startMinute; array[PIECE] of var 0..DAY-1: endMinute;
array[PIECE] of var 0..DAY*D: ready;
array[ACT,ACT] of var bool: next;                         % i just before j on one crew
array[1..W] of var DAYS: waitDay;
array[SLOT] of var bool: out;                             % called out

array[PIECE] of var DAYS: startDay; array[PIECE] of var DAYS: endDay;
constraint forall(p in PIECE)(startSlot[p] = startDay[p] + (crew[act[p]] - 1) * D /\\ endSlot[p] = endDay[p] + (crew[act[p]] - 1) * D);
array[PIECE] of var 0..DAY*D: start :: add_to_output; array[PIECE] of var 0..DAY*D: end :: add_to_output;
constraint forall(p in PIECE)(start[p] = DAY * startDay[p] + startMinute[p] /\\ end[p] = DAY * endDay[p] + endMinute[p]);

% who may work what
constraint forall(a in ACT, k in CREW where minutes[a,k] = 0)(crew[a] != k);
array[PIECE] of var int: length = [pieceMinutes[p, crew[act[p]]] | p in PIECE];

% each piece lies in its crew's windows
constraint forall(p in PIECE)(
  startMinute[p] >= from[startSlot[p]] /\\ endMinute[p] <= to[endSlot[p]] /\\
  endMinute[p] > from[endSlot[p]] /\\ startMinute[p] < to[startSlot[p]] /\\
  if whole[p] then endDay[p] = startDay[p] /\\ end[p] = start[p] + length[p]
  else worked[endSlot[p]] + endMinute[p] - from[endSlot[p]] = worked[startSlot[p]] + startMinute[p] - from[startSlot[p]] + length[p] endif);

% and begins at the first point that is open to it
constraint forall(p in PIECE)(
  ready[p] <= start[p] /\\
  (ready[p] = start[p] \\/ (startMinute[p] = from[startSlot[p]] /\\ ready[p] > latestBefore[latestRow[p], startSlot[p]])));

% from house to house on one day: cleanup, the way and setup, none of them split by the meal break
function var int: away(var int: at, int: way) =
  max([at + cleanup + way + setup,
    bool2int(at < rest /\\ at + cleanup + way + setup > rest) * (rest + setup),
    bool2int(at < rest /\\ at + cleanup + way > rest) * (rest + way + setup),
    bool2int(at < rest /\\ at + cleanup > rest) * (rest + cleanup + way + setup)]);
array[ACT,1..H] of var int: free = array2d(ACT, 1..H, [
  if house[a] = h then end[lastPiece[a]]
  else DAY * endDay[lastPiece[a]] + away(endMinute[lastPiece[a]], travel[house[a], h]) endif | a in ACT, h in 1..H]);

constraint forall(a in ACT)(ready[firstPiece[a]] = max(
  [release[a]]
  ++ [if nextDate[e] then DAY * (endDay[lastPiece[edgeFrom[e]]] + 1) else end[lastPiece[edgeFrom[e]]] + DAY * edgeLag[e] endif | e in 1..E where edgeTo[e] = a]
  ++ [DAY * (waitDay[byWait[y]] + 1) | y in 1..Y where afterWait[y] = a]
  ++ [bool2int(next[i,a]) * free[i, house[a]] | i in ACT where i != a]));
constraint forall(p in PIECE where p > firstPiece[act[p]])(ready[p] = end[p-1]);

% one line for each crew
constraint forall(a in ACT)(not next[a,a] /\\ sum(b in ACT)(next[a,b]) <= 1 /\\ sum(b in ACT)(next[b,a]) <= 1);
constraint forall(a, b in ACT where a != b)(next[a,b] -> crew[a] = crew[b]);
array[ACT] of var bool: first = [sum(b in ACT)(next[b,a]) = 0 | a in ACT];
constraint forall(k in CREW)(sum(a in ACT)(first[a] /\\ crew[a] = k) <= 1);
% follows from the lines, and helps: two activities of a crew do not overlap
constraint forall(a, b in ACT where a < b)(
  crew[a] = crew[b] -> (start[firstPiece[a]] >= end[lastPiece[b]] \\/ start[firstPiece[b]] >= end[lastPiece[a]]));

constraint forall(w in 1..W)(waitDay[w] = waitEnd[(w - 1) * D + 1 + max([endDay[lastPiece[waitAfter[x]]] | x in 1..X where waitOf[x] = w])]);

% a crew is called out on each day on which a piece of its work lies
constraint forall(p in PIECE, s in SLOT where to[s] > from[s])(startSlot[p] > s \\/ endSlot[p] < s \\/ out[s]);

array[1..H] of var DAYS: houseEnd;
constraint forall(h in 1..H)(houseEnd[h] = max([endDay[lastPiece[a]] | a in ACT where house[a] = h] ++ [waitDay[w] | w in 1..W where waitHouse[w] = h]));
constraint forall(h in 1..H)(houseEnd[h] <= lastDay[h]);
array[1..H] of var 0..D: late;
constraint forall(h in 1..H)(late[h] = max(0, houseEnd[h] - promised[h]));
array[ACT,ACT] of var bool: sameDay;
constraint forall(a, b in ACT)(if house[a] = house[b] then not sameDay[a,b]
  else sameDay[a,b] = (next[a,b] /\\ startDay[firstPiece[b]] = endDay[lastPiece[a]]) endif);
array[CREW] of var 0..DAY*D: idle;
constraint forall(k in CREW)(idle[k] =
  sum(d in DAYS)(paidIdle[(k-1)*D+d] * out[(k-1)*D+d]) - sum(a in ACT)(minutes[a,k] * (crew[a] = k))
  - sum(a, b in ACT where house[a] != house[b] /\\ minutes[a,k] > 0 /\\ minutes[b,k] > 0)((cleanup + setup + travel[house[a], house[b]]) * (sameDay[a,b] /\\ crew[a] = k)));
array[CREW,1..weeks] of var 0..10080: overtime;
constraint forall(k in CREW, w in 1..weeks)(overtime[k,w] >=
  sum(d in DAYS where weekOf[d] = w)(paid[(k-1)*D+d] * out[(k-1)*D+d]) - weeklyMinutes);

var 0..bound: cost :: add_to_output = lateCost * sum(h in 1..H)(weight[h] * late[h]) + idleCost * sum(idle) + overtimeCost * sum(overtime);
% the earliest point first; a solver with a search of its own may leave this
solve :: int_search(start, smallest, indomain_min) minimize cost;
`;
