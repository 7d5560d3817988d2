#include "textflag.h"

// One four of a row: Y8 has the number of the row, four times.
#define FOUR(OP, at, sum, product) \
	VMULPD at(R11), Y8, product \
	OP     product, sum, sum

// The next row and its number, until there is none.
#define NEXT(loop) \
	ADDQ R9, R11  \
	ADDQ $8, R12  \
	DECQ R13      \
	JNZ  loop

#define BEGIN \
	MOVQ SI, R11 \
	MOVQ DX, R12 \
	MOVQ R8, R13

#define MOVE(bytes, fours) \
	ADDQ $bytes, DI \
	ADDQ $bytes, SI \
	SUBQ $fours, CX

// Sums stay in registers while all rows go by: eight fours of columns at a time, then four, two, one.
#define ROWS(OP) \
	MOVQ to+0(FP), DI      \
	MOVQ a+8(FP), SI       \
	MOVQ x+16(FP), DX      \
	MOVQ fours+24(FP), CX  \
	MOVQ rows+32(FP), R8   \
	MOVQ stride+40(FP), R9 \
	SHLQ $3, R9            \
eight: \
	CMPQ CX, $8            \
	JLT  four              \
	VMOVUPD (DI), Y0       \
	VMOVUPD 32(DI), Y1     \
	VMOVUPD 64(DI), Y2     \
	VMOVUPD 96(DI), Y3     \
	VMOVUPD 128(DI), Y4    \
	VMOVUPD 160(DI), Y5    \
	VMOVUPD 192(DI), Y6    \
	VMOVUPD 224(DI), Y7    \
	BEGIN                  \
eightrow: \
	VBROADCASTSD (R12), Y8  \
	FOUR(OP, 0, Y0, Y9)     \
	FOUR(OP, 32, Y1, Y10)   \
	FOUR(OP, 64, Y2, Y11)   \
	FOUR(OP, 96, Y3, Y12)   \
	FOUR(OP, 128, Y4, Y9)   \
	FOUR(OP, 160, Y5, Y10)  \
	FOUR(OP, 192, Y6, Y11)  \
	FOUR(OP, 224, Y7, Y12)  \
	NEXT(eightrow)         \
	VMOVUPD Y0, (DI)       \
	VMOVUPD Y1, 32(DI)     \
	VMOVUPD Y2, 64(DI)     \
	VMOVUPD Y3, 96(DI)     \
	VMOVUPD Y4, 128(DI)    \
	VMOVUPD Y5, 160(DI)    \
	VMOVUPD Y6, 192(DI)    \
	VMOVUPD Y7, 224(DI)    \
	MOVE(256, 8)           \
	JMP  eight             \
four: \
	CMPQ CX, $4            \
	JLT  two               \
	VMOVUPD (DI), Y0       \
	VMOVUPD 32(DI), Y1     \
	VMOVUPD 64(DI), Y2     \
	VMOVUPD 96(DI), Y3     \
	BEGIN                  \
fourrow: \
	VBROADCASTSD (R12), Y8 \
	FOUR(OP, 0, Y0, Y9)    \
	FOUR(OP, 32, Y1, Y10)  \
	FOUR(OP, 64, Y2, Y11)  \
	FOUR(OP, 96, Y3, Y12)  \
	NEXT(fourrow)          \
	VMOVUPD Y0, (DI)       \
	VMOVUPD Y1, 32(DI)     \
	VMOVUPD Y2, 64(DI)     \
	VMOVUPD Y3, 96(DI)     \
	MOVE(128, 4)           \
two: \
	CMPQ CX, $2            \
	JLT  one               \
	VMOVUPD (DI), Y0       \
	VMOVUPD 32(DI), Y1     \
	BEGIN                  \
tworow: \
	VBROADCASTSD (R12), Y8 \
	FOUR(OP, 0, Y0, Y9)    \
	FOUR(OP, 32, Y1, Y10)  \
	NEXT(tworow)           \
	VMOVUPD Y0, (DI)       \
	VMOVUPD Y1, 32(DI)     \
	MOVE(64, 2)            \
one: \
	TESTQ CX, CX           \
	JZ   done              \
	VMOVUPD (DI), Y0       \
	BEGIN                  \
onerow: \
	VBROADCASTSD (R12), Y8 \
	FOUR(OP, 0, Y0, Y9)    \
	NEXT(onerow)           \
	VMOVUPD Y0, (DI)       \
done: \
	VZEROUPPER             \
	RET

// Four rows at a time, each with four chains; the chains of the four rows are then added to one four: a pair of chains of two rows each, crosswise, and the two pairs.
#define DOTS(OP) \
	MOVQ to+0(FP), DI      \
	MOVQ a+8(FP), SI       \
	MOVQ x+16(FP), DX      \
	MOVQ fours+24(FP), R8  \
	MOVQ across+32(FP), CX \
	MOVQ stride+40(FP), R9 \
	SHLQ $3, R9            \
	LEAQ (R9)(R9*2), R10   \
	SHLQ $5, CX            \
rows: \
	VXORPD Y0, Y0, Y0      \
	VXORPD Y1, Y1, Y1      \
	VXORPD Y2, Y2, Y2      \
	VXORPD Y3, Y3, Y3      \
	MOVQ SI, R11           \
	XORQ BX, BX            \
along: \
	VMOVUPD (DX)(BX*1), Y8        \
	VMULPD (R11), Y8, Y4          \
	VMULPD (R11)(R9*1), Y8, Y5    \
	VMULPD (R11)(R9*2), Y8, Y6    \
	VMULPD (R11)(R10*1), Y8, Y7   \
	VADDPD Y4, Y0, Y0             \
	VADDPD Y5, Y1, Y1             \
	VADDPD Y6, Y2, Y2             \
	VADDPD Y7, Y3, Y3             \
	ADDQ $32, R11                 \
	ADDQ $32, BX                  \
	CMPQ BX, CX                   \
	JLT  along                    \
	VHADDPD Y1, Y0, Y0            \
	VHADDPD Y3, Y2, Y2            \
	VPERM2F128 $0x20, Y2, Y0, Y4  \
	VPERM2F128 $0x31, Y2, Y0, Y5  \
	VADDPD Y5, Y4, Y4             \
	VMOVUPD (DI), Y5              \
	OP   Y4, Y5, Y5               \
	VMOVUPD Y5, (DI)              \
	ADDQ $32, DI                  \
	LEAQ (SI)(R9*4), SI           \
	DECQ R8                       \
	JNZ  rows                     \
	VZEROUPPER                    \
	RET

// func addRows(to, a, x *float64, fours, rows, stride int)
TEXT ·addRows(SB), NOSPLIT, $0-48
	ROWS(VADDPD)

// func subtractRows(to, a, x *float64, fours, rows, stride int)
TEXT ·subtractRows(SB), NOSPLIT, $0-48
	ROWS(VSUBPD)

// func addDots(to, a, x *float64, fours, across, stride int)
TEXT ·addDots(SB), NOSPLIT, $0-48
	DOTS(VADDPD)

// func subtractDots(to, a, x *float64, fours, across, stride int)
TEXT ·subtractDots(SB), NOSPLIT, $0-48
	DOTS(VSUBPD)

// func takeOff(a *float64, stride, rest int)
//
// R8, R9, R10, R11 are the rows of the four pivots, DI and SI two rows below that they are taken off; the four numbers of L of the first come into X0 to X3, those of
// the second into X4 to X7.
#define NUMBERS(row, L0, L1, L2, L3) \
	VMOVSD (row), L0        \
	VMULSD (R8), L0, L0     \
	VMULSD 8(R8), L0, X8    \
	VMOVSD 8(row), L1       \
	VSUBSD X8, L1, L1       \
	VMULSD 8(R9), L1, L1    \
	VMULSD 16(R8), L0, X8   \
	VMULSD 16(R9), L1, X9   \
	VMOVSD 16(row), L2      \
	VSUBSD X8, L2, L2       \
	VSUBSD X9, L2, L2       \
	VMULSD 16(R10), L2, L2  \
	VMULSD 24(R8), L0, X8   \
	VMULSD 24(R9), L1, X9   \
	VMULSD 24(R10), L2, X10 \
	VMOVSD 24(row), L3      \
	VSUBSD X8, L3, L3       \
	VSUBSD X9, L3, L3       \
	VSUBSD X10, L3, L3      \
	VMULSD 24(R11), L3, L3  \
	VMOVSD L0, (row)        \
	VMOVSD L1, 8(row)       \
	VMOVSD L2, 16(row)      \
	VMOVSD L3, 24(row)

#define OFF(row, l0, l1, l2, l3) \
	VMULPD Y8, l0, Y12             \
	VMULPD Y9, l1, Y13             \
	VMULPD Y10, l2, Y14            \
	VMULPD Y11, l3, Y15            \
	VADDPD Y13, Y12, Y12           \
	VADDPD Y15, Y14, Y14           \
	VADDPD Y14, Y12, Y12           \
	VMOVUPD (row)(BX*1), Y13       \
	VSUBPD Y12, Y13, Y13           \
	VMOVUPD Y13, (row)(BX*1)

TEXT ·takeOff(SB), NOSPLIT, $0-24
	MOVQ a+0(FP), R8
	MOVQ stride+8(FP), DX
	MOVQ rest+16(FP), CX
	SHLQ $3, DX
	LEAQ (R8)(DX*1), R9
	LEAQ (R9)(DX*1), R10
	LEAQ (R10)(DX*1), R11
	LEAQ (R11)(DX*1), DI
	LEAQ (DI)(DX*1), SI
	MOVQ CX, R12
	LEAQ 32(CX*8), R13

rows:
	NUMBERS(DI, X0, X1, X2, X3)
	NUMBERS(SI, X4, X5, X6, X7)
	VBROADCASTSD X0, Y0
	VBROADCASTSD X1, Y1
	VBROADCASTSD X2, Y2
	VBROADCASTSD X3, Y3
	VBROADCASTSD X4, Y4
	VBROADCASTSD X5, Y5
	VBROADCASTSD X6, Y6
	VBROADCASTSD X7, Y7
	MOVQ $32, BX

columns:
	VMOVUPD (R8)(BX*1), Y8
	VMOVUPD (R9)(BX*1), Y9
	VMOVUPD (R10)(BX*1), Y10
	VMOVUPD (R11)(BX*1), Y11
	OFF(DI, Y0, Y1, Y2, Y3)
	OFF(SI, Y4, Y5, Y6, Y7)
	ADDQ $32, BX
	CMPQ BX, R13
	JLT  columns

	LEAQ (DI)(DX*2), DI
	LEAQ (SI)(DX*2), SI
	SUBQ $2, R12
	JNZ  rows
	VZEROUPPER
	RET
