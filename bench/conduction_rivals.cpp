#include "conduction_rivals.h"

#include <HYPRE.h>
#include <HYPRE_IJ_mv.h>
#include <HYPRE_krylov.h>
#include <HYPRE_parcsr_ls.h>
#include <cholmod.h>
#include <mpi.h>

#include <array>
#include <chrono>

#include "heap.h"

extern "C" void openblas_set_num_threads(int);

namespace warmside::bench_support {

namespace {

// One row: columns ascending, values.
struct Row {
    std::array<int, 7> column{};
    std::array<double, 7> value{};
    int length = 0;
};

Row row_of(const conduction::Stencil& s, std::size_t c) {
    Row row;
    const std::size_t i = c % s.nx, j = c / s.nx % s.ny, k = c / (s.nx * s.ny), plane = s.nx * s.ny;
    double diagonal = static_cast<double>(s.ground[c]);
    const auto put = [&](std::size_t column, float conductance) {
        if (conductance == 0.0F) return;
        diagonal += static_cast<double>(conductance);
        row.column[static_cast<std::size_t>(row.length)] = static_cast<int>(column);
        row.value[static_cast<std::size_t>(row.length++)] = -static_cast<double>(conductance);
    };
    if (k > 0) put(c - plane, s.up[c - plane]);
    if (j > 0) put(c - s.nx, s.north[c - s.nx]);
    if (i > 0) put(c - 1, s.east[c - 1]);
    const auto middle = static_cast<std::size_t>(row.length++);
    if (i + 1 < s.nx) put(c + 1, s.east[c]);
    if (j + 1 < s.ny) put(c + s.nx, s.north[c]);
    if (k + 1 < s.nz) put(c + plane, s.up[c]);
    row.column[middle] = static_cast<int>(c);
    row.value[middle] = diagonal > 0.0 ? diagonal : 1.0;
    return row;
}

}  // namespace

double wall_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

void start_rivals(int& arguments, char**& argument) {
    MPI_Init(&arguments, &argument);
    HYPRE_Init();
}

void end_rivals() {
    HYPRE_Finalize();
    MPI_Finalize();
}

Outcome by_hypre(const Linear& problem, double residual) {
    Outcome out;
    restart_peak();
    const std::size_t before = heap_now();
    const auto n = static_cast<HYPRE_Int>(problem.right.size());
    HYPRE_IJMatrix matrix{};
    HYPRE_IJMatrixCreate(MPI_COMM_WORLD, 0, n - 1, 0, n - 1, &matrix);
    HYPRE_IJMatrixSetObjectType(matrix, HYPRE_PARCSR);
    {
        std::vector<HYPRE_Int> sizes(problem.right.size());
        for (std::size_t c = 0; c < sizes.size(); ++c) sizes[c] = row_of(problem.stencil, c).length;
        HYPRE_IJMatrixSetRowSizes(matrix, sizes.data());
        std::vector<HYPRE_Int> none(problem.right.size(), 0);
        HYPRE_IJMatrixSetDiagOffdSizes(matrix, sizes.data(), none.data());
    }
    HYPRE_IJMatrixInitialize(matrix);
    for (HYPRE_Int c = 0; c < n; ++c) {
        Row row = row_of(problem.stencil, static_cast<std::size_t>(c));
        HYPRE_IJMatrixSetValues(matrix, 1, &row.length, &c, row.column.data(), row.value.data());
    }
    HYPRE_IJMatrixAssemble(matrix);
    HYPRE_IJVector right{}, solution{};
    for (HYPRE_IJVector* vector : {&right, &solution}) {
        HYPRE_IJVectorCreate(MPI_COMM_WORLD, 0, n - 1, vector);
        HYPRE_IJVectorSetObjectType(*vector, HYPRE_PARCSR);
        HYPRE_IJVectorInitialize(*vector);
    }
    for (HYPRE_Int c = 0; c < n; ++c) {
        const double zero = 0.0;
        HYPRE_IJVectorSetValues(right, 1, &c, &problem.right[static_cast<std::size_t>(c)]);
        HYPRE_IJVectorSetValues(solution, 1, &c, &zero);
    }
    HYPRE_ParCSRMatrix A{};
    HYPRE_ParVector b{}, x{};
    HYPRE_IJMatrixGetObject(matrix, reinterpret_cast<void**>(&A));
    HYPRE_IJVectorGetObject(right, reinterpret_cast<void**>(&b));
    HYPRE_IJVectorGetObject(solution, reinterpret_cast<void**>(&x));

    const bool flat = problem.stencil.nz == 1;
    HYPRE_Solver cg{}, amg{};
    HYPRE_ParCSRPCGCreate(MPI_COMM_WORLD, &cg);
    HYPRE_PCGSetTol(cg, residual);
    HYPRE_PCGSetTwoNorm(cg, 1);
    HYPRE_PCGSetMaxIter(cg, 1000);
    HYPRE_BoomerAMGCreate(&amg);
    HYPRE_BoomerAMGSetCoarsenType(amg, 10);
    HYPRE_BoomerAMGSetInterpType(amg, 6);
    HYPRE_BoomerAMGSetPMaxElmts(amg, 4);
    HYPRE_BoomerAMGSetRelaxType(amg, 18);
    HYPRE_BoomerAMGSetStrongThreshold(amg, flat ? 0.25 : 0.5);
    HYPRE_BoomerAMGSetAggNumLevels(amg, flat ? 0 : 1);
    HYPRE_BoomerAMGSetTol(amg, 0.0);
    HYPRE_BoomerAMGSetMaxIter(amg, 1);
    HYPRE_BoomerAMGSetPrintLevel(amg, 0);
    HYPRE_PCGSetPrecond(cg, reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_BoomerAMGSolve),
                        reinterpret_cast<HYPRE_PtrToSolverFcn>(HYPRE_BoomerAMGSetup), amg);
    double start = wall_seconds();
    HYPRE_ParCSRPCGSetup(cg, A, b, x);
    out.setup = wall_seconds() - start;
    start = wall_seconds();
    HYPRE_ParCSRPCGSolve(cg, A, b, x);
    out.solve = wall_seconds() - start;
    out.bytes = heap_peak() - before;
    HYPRE_Int iterations = 0;
    HYPRE_PCGGetNumIterations(cg, &iterations);
    out.iterations = static_cast<std::size_t>(iterations);
    out.x.resize(problem.right.size());
    for (HYPRE_Int c = 0; c < n; ++c)
        HYPRE_IJVectorGetValues(solution, 1, &c, &out.x[static_cast<std::size_t>(c)]);
    if (HYPRE_GetError() != 0) out.trouble = "hypre reports an error";
    HYPRE_ClearAllErrors();
    HYPRE_ParCSRPCGDestroy(cg);
    HYPRE_BoomerAMGDestroy(amg);
    HYPRE_IJMatrixDestroy(matrix);
    HYPRE_IJVectorDestroy(right);
    HYPRE_IJVectorDestroy(solution);
    return out;
}

Outcome by_cholmod(const Linear& problem, int threads) {
    Outcome out;
    openblas_set_num_threads(threads);
    restart_peak();
    const std::size_t before = heap_now(), n = problem.right.size();
    cholmod_common common;
    cholmod_start(&common);
    common.supernodal = CHOLMOD_SUPERNODAL;
    common.nmethods = 1;
    common.method[0].ordering = CHOLMOD_AMD;
    common.print = 0;
    // The upper triangle by columns is the lower one by rows: up to four entries.
    cholmod_sparse* A = cholmod_allocate_sparse(n, n, 4 * n, 1, 1, 1, CHOLMOD_REAL, &common);
    int* columns = static_cast<int*>(A->p);
    int* rows = static_cast<int*>(A->i);
    auto* values = static_cast<double*>(A->x);
    int filled = 0;
    for (std::size_t c = 0; c < n; ++c) {
        columns[c] = filled;
        const Row row = row_of(problem.stencil, c);
        for (std::size_t e = 0; e < static_cast<std::size_t>(row.length); ++e) {
            if (row.column[e] > static_cast<int>(c)) break;
            rows[filled] = row.column[e];
            values[filled++] = row.value[e];
        }
    }
    columns[n] = filled;
    cholmod_dense* b = cholmod_zeros(n, 1, CHOLMOD_REAL, &common);
    std::copy(problem.right.begin(), problem.right.end(), static_cast<double*>(b->x));
    double start = wall_seconds();
    cholmod_factor* factor = cholmod_analyze(A, &common);
    cholmod_factorize(A, factor, &common);
    out.setup = wall_seconds() - start;
    start = wall_seconds();
    cholmod_dense* x = common.status == CHOLMOD_OK ? cholmod_solve(CHOLMOD_A, factor, b, &common) : nullptr;
    out.solve = wall_seconds() - start;
    out.bytes = heap_peak() - before;
    if (x) {
        const auto* solved = static_cast<const double*>(x->x);
        out.x.assign(solved, solved + n);
    } else {
        out.trouble = "no factor (memory, or more entries than its index holds)";
    }
    cholmod_free_dense(&x, &common);
    cholmod_free_dense(&b, &common);
    cholmod_free_factor(&factor, &common);
    cholmod_free_sparse(&A, &common);
    cholmod_finish(&common);
    return out;
}

}  // namespace warmside::bench_support
