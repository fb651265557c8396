export { bufferBytes, factor, gather, invertFactor, layOut, product, scatterAdd, scatterOuter, solveRight, solveRightPlain, subtractSymmetric } from './dense';
export { addScaled, describe, dot, multiply, precondition, step, turn } from './mixed';
