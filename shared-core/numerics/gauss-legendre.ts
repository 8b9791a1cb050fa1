/** Nodes and weights of a quadrature rule on [0, 1]. */
export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/**
 * The Gauss–Legendre rule of `count` nodes on [0, 1].
 *
 * Roots of the Legendre polynomial by Newton's method from the asymptotic guess (Abramowitz and Stegun,
 * "Handbook of Mathematical Functions", 1964, 22.16.6 and 25.4.29). Exact for polynomials up to degree
 * 2·count − 1.
 */
export function gaussLegendre(count: number): QuadratureRule {
  const nodes = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let index = 0; index < count; index++) {
    let root = Math.cos((Math.PI * (index + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let round = 0; round < 20; round++) {
      let below = 1;
      let value = root;
      for (let degree = 2; degree <= count; degree++) {
        const next = ((2 * degree - 1) * root * value - (degree - 1) * below) / degree;
        below = value;
        value = next;
      }
      slope = (count * (root * value - below)) / (root * root - 1);
      const step = value / slope;
      root -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    nodes[index] = (1 - root) / 2;
    weights[index] = 1 / ((1 - root * root) * slope * slope);
  }
  return { nodes, weights };
}
