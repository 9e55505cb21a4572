#include <CbcEventHandler.hpp>
#include <CbcHeuristic.hpp>
#include <CbcHeuristicDiveCoefficient.hpp>
#include <CbcHeuristicRINS.hpp>
#include <CbcModel.hpp>
#include <CglMixedIntegerRounding2.hpp>
#include <CoinPackedMatrix.hpp>
#include <OsiClpSolverInterface.hpp>
#include <cmath>

#include "takeoff/cutting_programme.h"

namespace warmside::takeoff {

namespace {

class Stopper : public CbcEventHandler {
public:
    explicit Stopper(StopToken token) : token_(std::move(token)) {}
    [[nodiscard]] CbcEventHandler* clone() const override { return new Stopper(*this); }
    CbcAction event(CbcEvent) override { return token_.stopped() ? CbcEventHandler::stop : noAction; }

private:
    StopToken token_;
};

void load(const CuttingProblem& problem, const std::vector<Column>& columns, OsiClpSolverInterface& solver) {
    const std::size_t pieces = problem.demand.size(), stocks = problem.capacity.size();
    CoinPackedMatrix matrix;
    matrix.setDimensions(static_cast<int>(pieces + stocks), 0);
    std::vector<double> cost;
    for (const Column& column : columns) {
        CoinPackedVector vector;
        for (std::size_t i = 0; i < pieces; ++i)
            if (column.cut[i] > 0) vector.insert(static_cast<int>(i), column.cut[i]);
        vector.insert(static_cast<int>(pieces + column.stock), 1.0);
        matrix.appendCol(vector);
        cost.push_back(problem.cost[column.stock]);
    }
    const double infinity = solver.getInfinity();
    std::vector<double> least(problem.demand.begin(), problem.demand.end()), most(pieces, infinity);
    for (const int available : problem.available) {
        least.push_back(0.0);
        most.push_back(available < 0 ? infinity : available);
    }
    const std::vector<double> zero(columns.size(), 0.0), free(columns.size(), infinity);
    solver.loadProblem(matrix, zero.data(), free.data(), cost.data(), least.data(), most.data());
    for (int j = 0; j < static_cast<int>(columns.size()); ++j) solver.setInteger(j);
}

}  // namespace

Result<Whole> solve_whole(const CuttingProblem& problem, const std::vector<Column>& columns,
                          const Wanted& wanted, int nodes, const Control& control) {
    OsiClpSolverInterface solver;
    solver.messageHandler()->setLogLevel(0);
    solver.setHintParam(OsiDoReducePrint, true, OsiHintTry);
    load(problem, columns, solver);
    CbcModel model(solver);
    model.setLogLevel(0);
    model.solver()->messageHandler()->setLogLevel(0);
    Stopper stopper(control.stop);
    model.passInEventHandler(&stopper);
    model.setRandomSeed(1);
    model.setMaximumNodes(nodes);
    model.setCutoff(wanted.at_most);
    // A next plan has to be better by a step.
    model.setDblParam(CbcModel::CbcCutoffIncrement, wanted.step > 0.0 ? 0.999 * wanted.step : 1e-9);
    CbcRounding rounding(model);
    CbcHeuristicDiveCoefficient dive(model);
    CbcHeuristicRINS neighbourhood(model);
    model.addHeuristic(&rounding);
    model.addHeuristic(&dive);
    model.addHeuristic(&neighbourhood);
    CglMixedIntegerRounding2 mixed;
    model.addCutGenerator(&mixed, -1, "rounding");
    model.branchAndBound();
    if (control.stop.stopped()) return fail(Code::stopped, "the cutting plan was stopped");
    Whole out;
    out.exhausted = model.isProvenOptimal() || model.isProvenInfeasible();
    if (const double* best = model.bestSolution()) {
        out.found = true;
        for (std::size_t j = 0; j < columns.size(); ++j)
            out.times.push_back(static_cast<int>(std::lround(best[j])));
    }
    return out;
}

}  // namespace warmside::takeoff
