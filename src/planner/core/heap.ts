/** A binary heap of small integers, ordered by two keys and then by the integer itself. */
export class Heap {
  private readonly items: number[] = [];
  private readonly first: number[] = [];
  private readonly second: number[] = [];

  get size(): number {
    return this.items.length;
  }

  push(item: number, first: number, second: number): void {
    let at = this.items.length;
    this.set(at, item, first, second);
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.less(at, parent)) break;
      this.swap(at, parent);
      at = parent;
    }
  }

  /** Takes the least item out; undefined when there is none. */
  pop(): number | undefined {
    const [top] = this.items;
    const last = this.items.length - 1;
    if (last < 0) return undefined;
    this.swap(0, last);
    this.items.pop();
    this.first.pop();
    this.second.pop();
    for (let at = 0; ;) {
      let least = at;
      for (const child of [2 * at + 1, 2 * at + 2])
        if (child < last && this.less(child, least)) least = child;
      if (least === at) break;
      this.swap(at, least);
      at = least;
    }
    return top;
  }

  /** Whether keys would come after the least item. */
  isBehind(item: number, first: number, second: number): boolean {
    if (this.items.length === 0) return false;
    const f = this.first[0] as number; // proof: not empty
    const s = this.second[0] as number;
    const i = this.items[0] as number;
    return first > f || (first === f && (second > s || (second === s && item > i)));
  }

  private less(a: number, b: number): boolean {
    const byFirst = (this.first[a] as number) - (this.first[b] as number); // proof: a and b are below size
    if (byFirst !== 0) return byFirst < 0;
    const bySecond = (this.second[a] as number) - (this.second[b] as number);
    return bySecond !== 0 ? bySecond < 0 : (this.items[a] as number) < (this.items[b] as number);
  }

  private set(at: number, item: number, first: number, second: number): void {
    this.items[at] = item;
    this.first[at] = first;
    this.second[at] = second;
  }

  private swap(a: number, b: number): void {
    const [item, first, second] = [
      this.items[a] as number,
      this.first[a] as number,
      this.second[a] as number,
    ];
    this.set(a, this.items[b] as number, this.first[b] as number, this.second[b] as number);
    this.set(b, item, first, second);
  }
}
