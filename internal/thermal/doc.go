// Package thermal solves networks of heat: nodes that hold it and verbs that move it. It knows no greenhouse.
//
//	node    holds heat by an enthalpy law, so freezing is nothing special; a node without capacity is a surface
//	ground  a node whose temperature is given from outside
//	join    conducts between two nodes, both ways
//	carry   a mass flow takes heat from one node to another, upwind, one way
//	inject  a named source from outside
//	resize  between two hours a node gets another law, and heat comes or goes with what it is of
//	body    many conducting cells behind ports, eliminated before the nodes are solved
//	modes   a linear body as independent modes, behind ports
//	cluster blocks of both kinds joined at inner nodes
//
// Nothing else makes or loses heat. One sign rule: heat into a node is positive; flows are named from -> to.
//
// Within one stage the coefficients are constant, so a stage is linear but for the enthalpy laws, and those are piecewise
// linear: the stage is solved on assumed branches (frozen, freezing, liquid), the branches are read from the result, and the
// two are brought to agree. The balance therefore closes to rounding, whatever the step. The scheme is the two-stage
// L-stable SDIRK of Alexander (1977), SIAM J. Numer. Anal. 14:1006-1021, with gamma = 1 - 1/sqrt(2); coefficients are
// those of each stage's own temperatures (Advance), which keeps the whole of second order.
//
// Temperatures in °C, heat in J, flows in W, conductances in W/K, time in s.
package thermal
